import type { Command } from 'commander';
import type { Formula } from '../../engine/aim/formulas.ts';
import type { Proposal, ProposedRecipe } from '../../engine/aim/next-types.ts';
import { nextOperation } from '../rounds/operations.ts';
import type { Brief } from '../schema/brief.ts';
import { loadSolver } from '../solver.ts';
import { answer } from './answer.ts';
import { ageOption } from './cup-options.ts';
import { examples } from './examples.ts';
import { leftoversFrom, tastedFrom } from './input-files.ts';
import type { Io } from './io.ts';
import { mixColumns, mixRow } from './mix-columns.ts';
import { FITTED_MODELS, type FittedModel } from './models.ts';
import { choiceOption, decimal, gramsById, jsonOption, seedOption, wholeNumber } from './option-values.ts';
import { inHundred, short, shortInterval, textTable } from './text-table.ts';

interface Options {
  count: number;
  leftovers?: string;
  rest?: number;
  onHand?: Record<string, number>;
  checkModels: boolean;
  age?: string;
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
    .option(
      '--rest <hours>',
      'how long a round stands before it is tasted: what is older than twice that is not mixed in',
      decimal({ above: 0 }),
    )
    .option(
      '--on-hand <id=grams>',
      'how much of a component is left: the mixes together need no more (may be given several times)',
      gramsById,
    )
    .addOption(ageOption())
    .option('--check-models', 'make the last of them a mix where the models disagree most', false)
    .addOption(
      choiceOption('--model <M>', 'one model instead of a Gaussian process', FITTED_MODELS).default('auto'),
    )
    .addOption(seedOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples(
        'next brief.json mixes.csv scores.csv --count 4',
        'next brief.json mixes.csv scores.csv --count 4 --leftovers leftovers.csv --rest 24 --on-hand vanilla=2 --on-hand lime=5',
        'next brief.json mixes.csv scores.csv --count 2 --model quadratic --age hours --check-models --seed 7 --json',
      ),
    )
    .action((brief: string, mixes: string, scores: string, options: Options) =>
      runNext([brief, mixes, scores], options, io),
    );
}

async function runNext(
  [brief, mixes, scores]: readonly [string, string, string],
  { count, leftovers, rest, onHand, checkModels, age, model, seed, json }: Options,
  io: Io,
): Promise<void> {
  const tasted = await tastedFrom(brief, mixes, scores, age);
  const left = leftovers === undefined ? undefined : await leftoversFrom(leftovers, tasted.mixes);
  const result = nextOperation(
    {
      ...tasted,
      warnings: [...tasted.warnings, ...(left?.warnings ?? [])],
      ...{ count, settle: checkModels, model, seed, onHand, restHours: rest, leftovers: left?.leftovers },
    },
    { solver: await loadSolver() },
  );
  answer(io, result, json, (document) => showNext(document, tasted.brief));
}

function showNext(
  { proposals, checkMix, best, formulas, stop }: ReturnType<typeof nextOperation>,
  brief: Brief,
): string {
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
    ...showLeftovers(proposals),
    ...(checkMix === null
      ? []
      : [`${checkMix.why} Give --check-models to have such a mix among the proposals.\n`]),
    'What to make if tasting stopped now:\n',
    textTable(
      [...mixColumns(brief), { title: 'chance' }, { title: 'distance (% of scale)', numeric: true }],
      [[...mixRow(best, brief), inHundred(best.chance), short(best.distance, 3)]],
    ),
    showPredicted(best, brief),
    ...showFormulas(formulas, brief),
  ].join('\n');
}

function showLeftovers(proposals: readonly Proposal[]): string[] {
  const rows = proposals.flatMap(({ mix, fromLeftovers: made }) => {
    if (made === undefined) return [];
    const poured = made.pours.map((pour) => `${short(pour.grams)} g of ${pour.mix}`);
    const fresh = Object.entries(made.fresh).map(([id, grams]) => `${short(grams)} g ${id}`);
    return [[mix, poured.join(', '), fresh.join(', '), made.says]];
  });
  if (rows.length === 0) return [];
  const columns = [{ title: 'mix' }, { title: 'pour' }, { title: 'add fresh' }, { title: 'saving' }];
  return ['From what is left:\n', textTable(columns, rows)];
}

/** Whole parts in the order of the brief, with what a careless pour does to the chance. */
function showFormulas(formulas: readonly Formula[], brief: Brief): string[] {
  if (formulas.length === 0) return [];
  const names = brief.components.map(({ id }) => id).join(' : ');
  const columns = [{ title: names }, { title: '' }, { title: 'chance' }, { title: 'in short' }];
  const rows = formulas.map(({ kind, parts, chance, says }) => {
    return [parts.join(' : '), kind, inHundred(chance), says];
  });
  return ['A formula others can weigh, in parts:\n', textTable(columns, rows)];
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
