import { planMixes } from '../../engine/design/plan-mixes.ts';
import { modelTerms, SCHEFFE_MODELS, type ScheffeModel } from '../../engine/design/terms.ts';
import type { FitInput, ModelName } from '../../engine/model/fit-types.ts';
import { predictPosterior } from '../../engine/model/predict-posterior.ts';
import type { LinearSolver } from '../../engine/numeric/linear-solver.ts';
import { createRandom } from '../../engine/numeric/random.ts';
import type { Serving } from '../../engine/panel/observations.ts';
import { precedingCups } from '../../engine/panel/preceding-cups.ts';
import { describeRegion } from '../../engine/region/describe-region.ts';
import { makeWorld, type PouredMix, type World, type WorldFamily } from './world.ts';
import { habit, orderEffect, ownReaction, sessionEffect } from './world-panel.ts';

/** What is measured: 95 % intervals of one kind of model, with the mixes planned for the terms of `planned`. */
export interface CoverageQuestion {
  family: WorldFamily;
  model: ModelName | 'auto';
  /** The model whose terms count: one and a half mixes are planned for each. */
  planned: ScheffeModel;
}

/** How one world answered: how many of the intervals at uniform ratios held the truth. */
export interface WorldCoverage {
  question: CoverageQuestion;
  components: number;
  dose: boolean;
  intervals: number;
  held: number;
  /** Mean width of the intervals, in points of 100. */
  width: number;
}

const MIXES_A_TERM = 1.5;
const MIXES_PER_SITTING = 4;
const POINTS = 20;

/**
 * Plans, weighs (with slips) and tastes one world with six assessors, and holds its intervals against what this
 * panel would give on average at ratios drawn uniformly: each assessor's habits and own reaction there, sessions and
 * cup positions at their realised average, cup noise left out.
 */
export function coverageIn(seed: number, question: CoverageQuestion, solver: LinearSolver): WorldCoverage {
  return measure(prepareWorld(seed, question, solver), seed, question);
}

function prepareWorld(seed: number, question: CoverageQuestion, solver: LinearSolver) {
  const world = makeWorld(seed, { family: question.family, assessors: 6 });
  const region = describeRegion(world.space, solver);
  const count = Math.ceil(MIXES_A_TERM * modelTerms(world.space, question.planned).length);
  const plan = planMixes(
    { space: world.space, batch: world.batch, mixes: count, model: question.planned, seed, starts: 2 },
    { solver },
  );
  const ids = world.space.components.map(({ id }) => id);
  const poured: PouredMix[] = [];
  const mixes: FitInput['mixes'][number][] = [];
  for (const { mix, blend, grams, settings } of plan.mixes) {
    const { real, shown } = world.weigh(
      ids.map((id) => grams[id]!),
      blend,
    );
    const values = world.space.settings.map(({ id }) => settings[id]!);
    poured.push({ mix, shares: sharesOf(real), settings: values });
    mixes.push({ mix, blend, round: '1', shares: sharesOf(shown), settings: values });
  }
  const servings = tasteAll(world, poured, seed);
  const input: FitInput = {
    space: world.space,
    region,
    mixes,
    servings,
    attributes: world.attributes,
    model: question.model,
  };
  return { world, input, poured, servings };
}

function measure(
  { world, input, poured, servings }: ReturnType<typeof prepareWorld>,
  seed: number,
  question: CoverageQuestion,
): WorldCoverage {
  const points = pointsOf(world, seed);
  const predictions = predictPosterior(input).predict(points);
  const passing = passingAverage(world, poured, servings);
  let [held, intervals, width] = [0, 0, 0];
  points.forEach((point, i) => {
    const truth = truthAt(world, point, passing, `untasted ${i}`);
    predictions.forEach(({ low, high }, k) => {
      const [from, to] = [clip(low[i]!), clip(high[i]!)];
      intervals += 1;
      width += to - from;
      held += Number(truth[k]! >= from - 1e-9 && truth[k]! <= to + 1e-9);
    });
  });
  return {
    question,
    components: world.space.components.length,
    dose: world.space.settings.length > 0,
    intervals,
    held,
    width: width / intervals,
  };
}

/** A line of the table: the share held, by world first, so that its error counts worlds and not intervals. */
export interface CoverageLine {
  worlds: number;
  share: number;
  error: number;
  width: number;
}

export function summarise(found: readonly WorldCoverage[]): CoverageLine {
  const shares = found.map(({ held, intervals }) => held / intervals);
  const share = mean(shares);
  const scatter = mean(shares.map((s) => (s - share) ** 2));
  return {
    worlds: found.length,
    share,
    error: Math.sqrt(scatter / Math.max(1, found.length - 1)),
    width: mean(found.map(({ width }) => width)),
  };
}

/** Every question of the table: each kind of model with mixes for its own terms, in both families of worlds. */
export function coverageQuestions(family: WorldFamily): CoverageQuestion[] {
  const own = SCHEFFE_MODELS.filter((model) => model !== 'full-cubic').map((model) => ({
    family,
    model,
    planned: model,
  }));
  return [
    ...own,
    { family, model: 'log-ratio', planned: 'quadratic' },
    { family, model: 'auto', planned: 'linear' },
    { family, model: 'auto', planned: 'quadratic' },
    { family, model: 'process', planned: 'linear' },
    { family, model: 'process', planned: 'quadratic' },
  ];
}

function tasteAll(world: World, mixes: readonly PouredMix[], seed: number): Serving[] {
  return Array.from({ length: Math.ceil(mixes.length / MIXES_PER_SITTING) }, (_, s) =>
    world.taste(mixes.slice(s * MIXES_PER_SITTING, (s + 1) * MIXES_PER_SITTING), {
      session: `sitting ${s + 1}`,
      seed,
    }),
  ).flat();
}

/** Sessions and cup positions at their realised average over the cups, by attribute. */
function passingAverage(world: World, poured: readonly PouredMix[], servings: readonly Serving[]): number[] {
  const { panel } = world;
  const trueScores = new Map(poured.map(({ mix, shares, settings }) => [mix, world.truth(shares, settings)]));
  if (world.reference) trueScores.set('reference', [...world.reference]);
  const before = precedingCups(servings);
  const total = panel.pivots.map(() => 0);
  servings.forEach((cup, i) => {
    const evening = sessionEffect(panel, cup.session!);
    const previous = before[i] ? trueScores.get(before[i]!.mix)! : null;
    for (let k = 0; k < total.length; k++) total[k]! += evening[k]! + orderEffect(panel, k, previous);
  });
  return total.map((sum) => sum / servings.length);
}

function truthAt(
  { panel, truth }: World,
  { shares, settings }: { shares: readonly number[]; settings: readonly number[] },
  passing: readonly number[],
  name: string,
): number[] {
  const reactions = panel.names.map((_, a) => ownReaction(panel, a, name));
  return truth(shares, settings).map((score, k) =>
    mean(panel.names.map((_, a) => clip(habit(panel, a, k, score) + reactions[a]![k]! + passing[k]!))),
  );
}

function pointsOf(world: World, seed: number): { shares: readonly number[]; settings: readonly number[] }[] {
  return createRandom(seed, 'coverage points')
    .shuffle([...world.points])
    .slice(0, POINTS);
}

function sharesOf(grams: readonly number[]): number[] {
  const total = grams.reduce((a, b) => a + b, 0);
  return grams.map((g) => g / total);
}

function clip(score: number): number {
  return Math.min(100, Math.max(0, score));
}

function mean(list: readonly number[]): number {
  return list.reduce((a, b) => a + b, 0) / Math.max(1, list.length);
}
