import type { Command } from 'commander';
import { predictOperation } from '../rounds/operations.ts';
import { loadSolver } from '../solver.ts';
import { answer } from './answer.ts';
import { addCupOptions, type CupOptions, checkSetAside } from './cup-options.ts';
import { examples } from './examples.ts';
import { ratiosFrom, tastedFrom } from './input-files.ts';
import type { Io } from './io.ts';
import { FITTED_MODELS, type FittedModel } from './models.ts';
import { choiceOption, jsonOption, seedOption } from './option-values.ts';
import { inHundred, short, shortInterval, textTable } from './text-table.ts';

interface Options extends CupOptions {
  at: string;
  model: FittedModel;
  for: 'panel' | 'population';
  weighing: boolean;
  seed: number;
  json: boolean;
}

export function addPredict(program: Command, io: Io): void {
  const command = program
    .command('predict')
    .description('what given ratios should taste like')
    .argument('<brief.json>', 'what is to be found')
    .argument('<mixes.csv>', 'what was really weighed')
    .argument('<scores.csv>', 'what was tasted')
    .requiredOption('--at <ratios.csv>', 'the ratios to predict')
    .addOption(
      choiceOption('--model <M>', 'one model instead of an average over models', FITTED_MODELS).default(
        'auto',
      ),
    )
    .addOption(choiceOption('--for <WHOM>', 'whose average', ['panel', 'population']).default('panel'))
    .option(
      '--weighing',
      "count what the brief's balance leaves uncertain when the ratios are weighed",
      false,
    );
  addCupOptions(command)
    .addOption(seedOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples(
        'predict brief.json mixes.csv scores.csv --at ratios.csv',
        'predict brief.json mixes.csv scores.csv --at ratios.csv --for population --model quadratic --df kenward-roger',
        'predict brief.json mixes.csv scores.csv --at ratios.csv --weighing',
        'predict brief.json mixes.csv scores.csv --at ratios.csv --adjust --assessor-by-session --age hours --set-aside P3 --seed 1 --json',
      ),
    )
    .action((brief: string, mixes: string, scores: string, options: Options) =>
      runPredict([brief, mixes, scores], options, io),
    );
}

async function runPredict(
  [brief, mixes, scores]: readonly [string, string, string],
  { at, for: whom, json, ...options }: Options,
  io: Io,
): Promise<void> {
  const tasted = await tastedFrom(brief, mixes, scores, options.age);
  const { rows, warnings } = await ratiosFrom(at, tasted.brief);
  checkSetAside(options, tasted.servings, scores);
  const request = { ...tasted, ...options, rows, for: whom, warnings: [...tasted.warnings, ...warnings] };
  const result = predictOperation(request, { solver: await loadSolver() });
  answer(io, result, json, (document) => showPredictions(document, whom, options.weighing));
}

function showPredictions(
  { rows }: ReturnType<typeof predictOperation>,
  whom: string,
  weighed: boolean,
): string {
  const columns = [
    { title: 'ratio' },
    { title: 'attribute' },
    { title: 'mean', numeric: true },
    { title: '95 % interval' },
    ...(weighed ? [{ title: 'from weighing', numeric: true }] : []),
    { title: 'on target' },
  ];
  const cells = rows.flatMap(({ name, attributes, chance }) => [
    ...attributes.map(({ id, mean, interval, weighing, chance: own }, index) => [
      index === 0 ? name : '',
      id,
      short(mean, 3),
      shortInterval(interval, 3),
      ...(weighed ? [short(weighing ?? null, 2)] : []),
      inHundred(own),
    ]),
    ['', 'all at once', '', '', ...(weighed ? [''] : []), inHundred(chance)],
  ]);
  const who = whom === 'panel' ? "this panel's average" : 'the average of new tasters';
  return [
    `${rows.length} ${rows.length === 1 ? 'ratio' : 'ratios'}: what ${who} should be.\n`,
    textTable(columns, cells),
    ...(weighed
      ? [
          'From weighing: one standard uncertainty of the balance, in scale units; intervals and chances hold it.\n',
        ]
      : []),
    'Chances go by the scores alone; those of the next mixes also count that a target can probably be met.\n',
  ].join('\n');
}
