import type { Command } from 'commander';
import type { AttributeFit } from '../../engine/model/fit-types.ts';
import { fitOperation } from '../rounds/operations.ts';
import { loadSolver } from '../solver.ts';
import { answer } from './answer.ts';
import { tastedFrom } from './input-files.ts';
import type { Io } from './io.ts';
import { FITTED_MODELS, type FittedModel } from './models.ts';
import { choiceOption, jsonOption, unusedSeedOption } from './option-values.ts';
import { short, shortP, textTable } from './text-table.ts';

interface Options {
  model: FittedModel;
  df: 'satterthwaite' | 'kenward-roger';
  json: boolean;
}

export function addFit(program: Command, io: Io): void {
  program
    .command('fit')
    .description('how the ratios move each attribute')
    .argument('<brief.json>', 'what is to be found')
    .argument('<mixes.csv>', 'what was really weighed')
    .argument('<scores.csv>', 'what was tasted')
    .addOption(choiceOption('--model <M>', 'the form of the surface', FITTED_MODELS).default('auto'))
    .addOption(
      choiceOption('--df <D>', 'degrees of freedom', ['satterthwaite', 'kenward-roger']).default(
        'satterthwaite',
      ),
    )
    .addOption(unusedSeedOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      '\nExample: dropwise fit examples/yarn/brief.json examples/yarn/mixes.csv examples/yarn/scores.csv --model quadratic',
    )
    .action((brief: string, mixes: string, scores: string, options: Options) =>
      runFit([brief, mixes, scores], options, io),
    );
}

async function runFit(
  [brief, mixes, scores]: readonly [string, string, string],
  { model, df, json }: Options,
  io: Io,
): Promise<void> {
  const tasted = await tastedFrom(brief, mixes, scores);
  const result = fitOperation({ ...tasted, model, df }, { solver: await loadSolver() });
  answer(io, result, json, ({ attributes }) => attributes.map(showFit).join('\n'));
}

function showFit(fit: AttributeFit): string {
  if (fit.model === null) return `${fit.id}: no model. ${fit.reason ?? ''}\n`;
  const { blending, lackOfFit, leaveOneMixOut } = fit;
  return [
    `${fit.id}: ${fit.model} model; ratios ${tells(blending.p)} (p ${shortP(blending.p)}).\n`,
    textTable(
      ['term', 'estimate', 'standard error', 'degrees of freedom', 'p'].map((title, c) => ({
        title,
        numeric: c > 0,
      })),
      fit.coefficients.map((c) => [
        c.term,
        short(c.estimate),
        short(c.standardError),
        short(c.denDf, 3),
        shortP(c.p),
      ]),
    ),
    textTable(
      ['more of', 'change over its range', 'standard error', 'p'].map((title, c) => ({
        title,
        numeric: c > 0,
      })),
      fit.effects.map((e) => [e.component, short(e.change, 3), short(e.standardError, 3), shortP(e.p)]),
    ),
    `  Lack of fit against ${lackOfFit.against === 'blend' ? 'fresh weighings' : 'cups'}: p ${shortP(lackOfFit.p)}${lackOfFit.reason === undefined ? '' : ` (${lackOfFit.reason})`}.`,
    `  Each mix foretold from the others: off by ${short(leaveOneMixOut.rmse, 3)} points (q2 ${short(leaveOneMixOut.q2, 3)}); R2 ${short(fit.rSquared, 3)}.`,
    ...(fit.reference === null
      ? []
      : [
          `  The reference: ${short(fit.reference.mean)} (standard error ${short(fit.reference.standardError, 3)}).`,
        ]),
    '',
  ].join('\n');
}

function tells(p: number | null): string {
  if (p === null) return 'cannot be tested';
  return p < 0.05 ? 'can be tasted' : 'cannot be told apart by this panel';
}
