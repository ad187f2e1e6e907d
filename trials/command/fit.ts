import type { Command } from 'commander';
import { fitOperation } from '../rounds/operations.ts';
import { loadSolver } from '../solver.ts';
import { answer } from './answer.ts';
import { addCupOptions, type CupOptions, checkSetAside } from './cup-options.ts';
import { examples } from './examples.ts';
import { tastedFrom } from './input-files.ts';
import type { Io } from './io.ts';
import { FITTED_MODELS, type FittedModel } from './models.ts';
import { choiceOption, jsonOption, unusedSeedOption } from './option-values.ts';
import { orderTable, short, shortP, textTable } from './text-table.ts';

interface Options extends CupOptions {
  model: FittedModel;
  json: boolean;
}

export function addFit(program: Command, io: Io): void {
  const command = program
    .command('fit')
    .description('how the ratios move each attribute')
    .argument('<brief.json>', 'what is to be found')
    .argument('<mixes.csv>', 'what was really weighed')
    .argument('<scores.csv>', 'what was tasted')
    .addOption(choiceOption('--model <M>', 'the form of the surface', FITTED_MODELS).default('auto'));
  addCupOptions(command)
    .addOption(unusedSeedOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples(
        'fit examples/yarn/brief.json examples/yarn/mixes.csv examples/yarn/scores.csv --model quadratic',
        'fit brief.json mixes.csv scores.csv --df kenward-roger --adjust --assessor-by-session --age hours --set-aside P3,P5',
        'fit brief.json mixes.csv scores.csv --seed 1 --json',
      ),
    )
    .action((brief: string, mixes: string, scores: string, options: Options) =>
      runFit([brief, mixes, scores], options, io),
    );
}

async function runFit(
  [brief, mixes, scores]: readonly [string, string, string],
  { json, ...options }: Options,
  io: Io,
): Promise<void> {
  const tasted = await tastedFrom(brief, mixes, scores, options.age);
  checkSetAside(options, tasted.servings, scores);
  const result = fitOperation({ ...tasted, ...options }, { solver: await loadSolver() });
  answer(io, result, json, ({ attributes }) => attributes.map(showFit).join('\n'));
}

type ShownFit = ReturnType<typeof fitOperation>['attributes'][number];

function showFit(fit: ShownFit): string {
  if (fit.model === null) return `${fit.id}: no model. ${fit.reason ?? ''}\n`;
  return [
    `${fit.id}: ${fit.model} model; ratios ${tells(fit)}.\n`,
    ...(fit.coefficients.length > 0 ? [termTable(fit)] : []),
    effectTable(fit),
    ...(fit.order || fit.age ? [orderTable([...(fit.age ? [fit.age] : []), ...(fit.order ?? [])])] : []),
    ...figures(fit).map((line) => `  ${line}`),
    '',
  ].join('\n');
}

function termTable({ coefficients }: ShownFit): string {
  const titles = ['term', 'estimate', 'standard error', 'degrees of freedom', 'p'];
  return textTable(
    titles.map((title, c) => ({ title, numeric: c > 0 })),
    coefficients.map((c) => [
      c.term,
      short(c.estimate),
      short(c.standardError),
      short(c.denDf, 3),
      shortP(c.p),
    ]),
  );
}

function effectTable({ effects, withEveryone }: ShownFit): string {
  const titles = ['more of', 'change over its range', 'standard error', 'p'];
  return textTable(
    [...titles, ...(withEveryone ? ['change with everyone'] : [])].map((title, c) => ({
      title,
      numeric: c > 0,
    })),
    effects.map((e, c) => [
      e.component,
      short(e.change, 3),
      short(e.standardError, 3),
      shortP(e.p),
      ...(withEveryone ? [short(withEveryone.effects[c]?.change, 3)] : []),
    ]),
  );
}

function figures({ lackOfFit, leaveOneMixOut: left, rSquared, reference, weights }: ShownFit): string[] {
  const against = lackOfFit.against === 'blend' ? 'fresh weighings' : 'cups';
  const because = (reason: string | undefined) => (reason === undefined ? '' : ` (${reason})`);
  return [
    `Lack of fit against ${against}: p ${shortP(lackOfFit.p)}${because(lackOfFit.reason)}.`,
    left.rmse === null
      ? `Each mix foretold from the others: cannot be said${because(left.reason)}.`
      : `Each mix foretold from the others: off by ${short(left.rmse, 3)} points (q2 ${short(left.q2, 3)})${because(left.reason)}; R2 ${short(rSquared, 3)}.`,
    ...(weights.length > 1
      ? [
          `Predictions average over ${weights.map(({ model, weight }) => `${model} ${Math.round(100 * weight)} %`).join(', ')}.`,
        ]
      : []),
    ...(reference === null
      ? []
      : [`The reference: ${short(reference.mean)} (standard error ${short(reference.standardError, 3)}).`]),
  ];
}

function tells({ blending: { p }, model }: ShownFit): string {
  if (p === null) return model === 'process' ? 'have no test of their own here' : 'cannot be tested';
  return `${p < 0.05 ? 'can be tasted' : 'cannot be told apart by this panel'} (p ${shortP(p)})`;
}
