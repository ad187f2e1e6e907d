import type { Command } from 'commander';
import type { ProposedRecipe } from '../../engine/aim/next-types.ts';
import { nextOperation } from '../rounds/operations.ts';
import type { Brief } from '../schema/brief.ts';
import { loadSolver } from '../solver.ts';
import { answer } from './answer.ts';
import { leftoversFrom, tastedFrom } from './input-files.ts';
import type { Io } from './io.ts';
import { mixColumns, mixRow } from './mix-columns.ts';
import { FITTED_MODELS, type FittedModel } from './models.ts';
import { choiceOption, jsonOption, seedOption, wholeNumber } from './option-values.ts';
import { inHundred, short, shortInterval, textTable } from './text-table.ts';

interface Options {
  count: number;
  leftovers?: string;
  model: FittedModel;
  seed: number;
  json: boolean;
}

export function addNext(program: Command, io: Io): void {
  program
    .command('next')
    .description('the next ratios to mix')
    .argument('<brief.json>', 'what is to be found')
    .argument('<mixes.csv>', 'what was really weighed')
    .argument('<scores.csv>', 'what was tasted')
    .requiredOption('--count <K>', 'how many to propose', wholeNumber(1, 100))
    .option('--leftovers <leftovers.csv>', 'what is left of earlier blends, to mix from')
    .addOption(
      choiceOption('--model <M>', 'one model instead of an average over models', FITTED_MODELS).default(
        'auto',
      ),
    )
    .addOption(seedOption())
    .addOption(jsonOption())
    .addHelpText('after', '\nExample: dropwise next brief.json mixes.csv scores.csv --count 4')
    .action((brief: string, mixes: string, scores: string, options: Options, command: Command) =>
      runNext([brief, mixes, scores], options, { command, io }),
    );
}

async function runNext(
  [brief, mixes, scores]: readonly [string, string, string],
  { count, leftovers, model, seed, json }: Options,
  { command, io }: { command: Command; io: Io },
): Promise<void> {
  const tasted = await tastedFrom(brief, mixes, scores);
  if (leftovers !== undefined) {
    await leftoversFrom(leftovers, tasted.mixes);
    command.error('error: --leftovers: mixing from leftovers is not built yet.');
  }
  const result = nextOperation({ ...tasted, count, model, seed }, { solver: await loadSolver() });
  answer(io, result, json, (document) => showNext(document, tasted.brief));
}

function showNext({ proposals, best, stop }: ReturnType<typeof nextOperation>, brief: Brief): string {
  const columns = [{ title: 'mix' }, ...mixColumns(brief), { title: 'chance' }, { title: 'why' }];
  const rows = proposals.map((one) => [
    one.again ? `${one.mix} (again)` : one.mix,
    ...mixRow(one, brief),
    inHundred(one.chance),
    one.why,
  ]);
  return [
    `${stop.advised ? 'Stop' : 'Go on'}: ${stop.because}\n`,
    textTable(columns, rows),
    'What to make if tasting stopped now:\n',
    textTable(
      [...mixColumns(brief), { title: 'chance' }, { title: 'distance (% of scale)', numeric: true }],
      [[...mixRow(best, brief), inHundred(best.chance), short(best.distance, 3)]],
    ),
    showPredicted(best, brief),
  ].join('\n');
}

function showPredicted({ predicted }: ProposedRecipe, brief: Brief): string {
  const rows = brief.attributes.flatMap(({ id }) => {
    const score = Object.hasOwn(predicted, id) ? predicted[id]! : null;
    return score === null
      ? []
      : [[id, short(score.mean, 3), shortInterval(score.interval, 3), inHundred(score.chance)]];
  });
  const columns = [
    { title: 'attribute' },
    { title: 'mean', numeric: true },
    { title: '95 % interval' },
    { title: 'on target' },
  ];
  return textTable(columns, rows);
}
