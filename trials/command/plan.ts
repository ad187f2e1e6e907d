import { type Command, InvalidArgumentError, Option } from 'commander';
import { DIFFICULTIES, type Difficulty } from '../../engine/aim/rehearsal/invented-truth.ts';
import { POINT_SETS, type PointSet } from '../../engine/design/simplex-points.ts';
import { PLANNED_MODELS, type PlannedModel } from '../../engine/design/terms.ts';
import { EngineError } from '../../engine/errors.ts';
import { planOperation } from '../rounds/plan-operation.ts';
import type { Brief } from '../schema/brief.ts';
import { money as inMoney, moneyHead } from '../schema/money.ts';
import type { PlanDocument } from '../schema/plan-document.ts';
import { loadSolver } from '../solver.ts';
import { answer } from './answer.ts';
import { examples } from './examples.ts';
import { allRead, briefFrom, mixesFrom, ownShelfFrom, ratiosFrom } from './input-files.ts';
import type { Io } from './io.ts';
import { mixColumns, mixRow } from './mix-columns.ts';
import {
  choiceOption,
  decimal,
  jsonOption,
  materialsOption,
  seedOption,
  wholeNumber,
  workersOption,
} from './option-values.ts';
import { short, textTable } from './text-table.ts';

interface Options {
  mixes: number;
  model?: PlannedModel;
  criterion?: 'average-variance' | 'determinant';
  already?: string;
  replicated?: number;
  sittings?: number;
  noise?: number;
  pin?: string;
  forbid?: string;
  points?: PointSet;
  atMost?: Record<string, number>;
  screen?: boolean;
  perBottle?: number;
  thrift?: number;
  spare?: string[];
  compare: boolean;
  rehearse?: Difficulty;
  truths?: number;
  moreRounds?: number;
  materials?: string;
  workers: number;
  seed: number;
  json: boolean;
}

export function addPlan(program: Command, io: Io): void {
  program
    .command('plan')
    .description('the first (or an additional) set of mixes over the whole allowed region')
    .argument('<brief.json>', 'what is to be found')
    .requiredOption('--mixes <N>', 'how many mixes', wholeNumber(1, 1000))
    .addOption(choiceOption('--model <M>', 'what the mixes must be able to tell', PLANNED_MODELS))
    .addOption(
      choiceOption('--criterion <C>', 'what makes a set good', ['average-variance', 'determinant']).default(
        'average-variance',
      ),
    )
    .option('--already <mixes.csv>', 'what has been weighed before, to add to')
    .option('--replicated <R>', 'how many of the mixes are fresh weighings of others', wholeNumber(0, 1000))
    .option('--pin <ratios.csv>', 'mixes that are settled beforehand and count among the mixes')
    .addOption(
      choiceOption(
        '--points <SET>',
        'a published set of points, where the bounds leave a simplex',
        POINT_SETS,
      ),
    )
    .option(
      '--screen',
      'mixes that tell which components belong in the blend at all; read them with `fit --model linear`',
    )
    .option('--per-bottle <K>', 'mixes poured from each bottle, at different settings', wholeNumber(1, 81))
    .option('--forbid <ratios.csv>', 'mixes that the plan must keep away from')
    .option(
      '--sittings <S>',
      'sittings of each taster (default: as the cups per sitting ask)',
      wholeNumber(1, 50),
    )
    .option('--noise <SD>', 'scatter of one score in scale units (default: assumed)', decimal({ above: 0 }))
    .option('--compare', 'three sizes side by side, and knowledge against the number of mixes', false)
    .addOption(
      choiceOption(
        '--rehearse <difficulty>',
        'how often the target would be found, on invented truths, before anything is weighed',
        DIFFICULTIES,
      ),
    )
    .addOption(
      new Option('--truths <N>', 'how many truths a rehearsal invents (default: 40; alone: middling ones)')
        .argParser(wholeNumber(1, 1000))
        .implies({ rehearse: 'middling' }),
    )
    .addOption(
      new Option('--more-rounds <R>', 'rounds that a rehearsal plays after the plan (default: 2)')
        .argParser(wholeNumber(0, 5))
        .implies({ rehearse: 'middling' }),
    )
    .option(
      '--at-most <component=grams>',
      'most grams of a component in all mixes together; may be given again',
      capOption,
    )
    .option(
      '--thrift <percent>',
      'the cheapest mixes found that know at most so much less',
      decimal({ above: 0, below: 100 }),
    )
    .option(
      '--spare <component>',
      'with --thrift: spare this component instead of money; may be given again',
      (id: string, before: string[] = []) => [...before, id],
    )
    .addOption(materialsOption())
    .addOption(workersOption())
    .addOption(seedOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples(
        'plan brief.json --mixes 12 --replicated 2 --json',
        'plan brief.json --mixes 12 --compare --noise 12 --sittings 3',
        'plan brief.json --mixes 8 --already mixes.csv --model quadratic --criterion determinant --seed 7 --workers 2',
        'plan brief.json --mixes 10 --pin favourites.csv --forbid too-dear.csv --at-most vanilla=3',
        'plan brief.json --mixes 10 --points centroid',
        'plan brief.json --mixes 12 --at-most vanilla=3 --thrift 2 --spare vanilla',
        'plan brief.json --mixes 18 --per-bottle 3',
        'plan brief.json --mixes 9 --screen --materials own.json',
        'plan brief.json --mixes 9 --rehearse hard --truths 20 --more-rounds 3',
      ),
    )
    .action((brief: string, options: Options) => runPlan(brief, options, io));
}

/** `vanilla=3`: at most 3 g of vanilla in all. */
function capOption(text: string, before: Record<string, number> = {}): Record<string, number> {
  const [, id, grams] = /^([A-Za-z][\w-]*)=(\d+(?:\.\d+)?)$/.exec(text) ?? [];
  if (id === undefined) throw new InvalidArgumentError('Allowed: a component and grams, such as vanilla=3.');
  return { ...before, [id]: Number(grams) };
}

async function runPlan(file: string, options: Options, io: Io): Promise<void> {
  const { already, json, workers, pin, forbid, materials, ...more } = options;
  const { rehearse: difficulty, truths, moreRounds, ...asked } = more;
  const [{ brief, warnings }, own] = await allRead([briefFrom(file), ownShelfFrom(materials)]);
  refuseStrangers(options.atMost, brief);
  const weighed = already === undefined ? undefined : await mixesFrom(already, brief);
  const [pinned, forbidden] = await Promise.all(
    [pin, forbid].map((file) => (file === undefined ? undefined : ratiosFrom(file, brief))),
  );
  const request = {
    ...(difficulty ? { rehearse: { difficulty, truths, rounds: moreRounds } } : {}),
    ...{ ...asked, thrift: asked.thrift && asked.thrift / 100 },
    ...{ brief, already: weighed?.mixes, pinned: pinned?.rows, forbidden: forbidden?.rows },
    ...{ shelf: own.materials, limits: own.limits },
    warnings: [
      ...own.warnings,
      ...warnings,
      ...[weighed, pinned, forbidden].flatMap((read) => read?.warnings ?? []),
    ],
  };
  const result = await planOperation(request, { solver: await loadSolver(), workers });
  answer(io, result, json, (document) => showPlan(document, brief));
}

function refuseStrangers(atMost: Record<string, number> = {}, brief: Brief): void {
  const ids = brief.components.map(({ id }) => id);
  const stranger = Object.keys(atMost).find((id) => !ids.includes(id));
  if (stranger !== undefined)
    throw new EngineError('bad-argument', '--at-most', stranger, `a component: ${ids.join(', ')}`);
}

function showPlan(document: PlanDocument, brief: Brief): string {
  const { mixes, model, terms } = document;
  const blocks = mixes.some(({ sitting }) => sitting !== undefined);
  const rows = mixes.map((mix) => [
    mix.mix,
    ...mixRow(mix, brief),
    ...(blocks ? [String(mix.sitting)] : []),
    mix.pinned ? `Pinned. ${mix.why}` : mix.why,
  ]);
  const columns = [
    { title: 'mix' },
    ...mixColumns(brief),
    ...(blocks ? [{ title: 'sitting', numeric: true }] : []),
    { title: 'why' },
  ];
  return [
    `${count(mixes.length, 'mix', 'mixes')} of ${brief.batch.grams} g for ${brief.name}; the ${model} model has ${count(terms.length, 'term', 'terms')}.\n`,
    textTable(columns, rows),
    `Average variance ${short(document.averageVariance)}, largest ${short(document.maximumVariance)} (in units of one cup's variance).\n`,
    ...showPrice(document, brief),
    ...showOffers(document, brief),
    ...showRehearsal(document),
  ].join('\n');
}

function showPrice(
  { price, shifts, thrift, hiddenDuplicate, smallerBatch }: PlanDocument,
  { currency }: Brief,
): string[] {
  const { grams, stocks, money, unpriced, minutes } = price;
  const masses = [
    ...Object.entries(grams).map(([id, mass]) => `${id} ${short(mass)} g`),
    ...stocks.map(
      ({ component, strength, grams: mass }) => `${component} as ${strength} % stock ${short(mass)} g`,
    ),
  ];
  const noise = shifts[0]?.noise.from === 'assumed' ? 'noise assumed, --noise states it' : 'noise as stated';
  return [
    `Takes ${count(price.bottles, 'bottle', 'bottles')}, ${count(price.weighings, 'weighing', 'weighings')} and ${count(price.cups, 'cup', 'cups')} in ${count(price.sittings, 'sitting', 'sittings')}: ${masses.join(', ')}.`,
    money === null
      ? `Money: not known, no price for ${unpriced.join(', ')}.`
      : `Money: ${inMoney(money, currency)}.`,
    `About ${Math.round(minutes.weighing)} minutes to weigh, ${Math.round(minutes.pouring)} to pour, ${Math.round(minutes.tastingEach)} for each taster.`,
    ...(shifts.length === 0
      ? []
      : [
          `Smallest difference noticed four times in five (${noise}): ${shifts.map(({ attribute, shift }) => `${attribute} ${short(shift, 3)}`).join(', ')}.`,
        ]),
    ...(thrift === undefined ? [] : [thrift.says]),
    ...(hiddenDuplicate === null ? [] : [hiddenDuplicate.why]),
    ...(smallerBatch === null ? [] : [smallerBatch.says]),
    '',
  ];
}

function showOffers(
  { offers = [], among, comparedIn, price: own }: PlanDocument,
  { currency }: Brief,
): string[] {
  if (offers.length === 0) return [];
  const columns = [
    { title: 'size' },
    ...['mixes', 'cups', 'sittings', 'minutes', moneyHead(currency), 'variance'].map((title) => ({
      title,
      numeric: true,
    })),
  ];
  const sizes = offers.map(({ offer, ...told }) => ({ size: offer.replace('-', ' '), ...told }));
  const shown = [...sizes, ...(among ? [{ size: 'this plan', price: own, ...among }] : [])];
  const rows = shown.map(({ size, mixes, price, averageVariance }) => [
    size,
    ...[mixes, price.cups, price.sittings].map(String),
    String(Math.round(price.minutes.weighing + price.minutes.pouring)),
    price.money === null ? '' : price.money.toFixed(2),
    short(averageVariance),
  ]);
  return [`Three sizes and this plan, all judged in the ${comparedIn} model:`, textTable(columns, rows)];
}

/** How often the target would have been found, on invented truths. */
function showRehearsal({ rehearsal }: PlanDocument): string[] {
  if (rehearsal === undefined) return [];
  const columns = [
    { title: 'after' },
    { title: 'mixes', numeric: true },
    { title: 'cups', numeric: true },
    { title: 'found', numeric: true },
    { title: '95 % of rehearsals' },
    { title: 'distance', numeric: true },
  ];
  const rows = rehearsal.stages.map(({ rounds, mixes, cups, found, interval: [low, high], distance }) => [
    rounds === 0 ? 'the plan' : `${count(rounds, 'more round', 'more rounds')}`,
    ...[mixes, cups].map(String),
    `${found} of ${rehearsal.truths}`,
    `${Math.round(100 * low)} to ${Math.round(100 * high)} in 100`,
    short(distance, 3),
  ]);
  return [
    `Rehearsed on ${count(rehearsal.truths, 'invented truth', 'invented truths')} in which the target can be met: ${rehearsal.says}.`,
    textTable(columns, rows),
  ];
}

function count(many: number, one: string, more: string): string {
  return `${many} ${many === 1 ? one : more}`;
}
