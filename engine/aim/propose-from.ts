import { checkpoint, type Hooks } from '../hooks.ts';
import type { PanelPosterior, ScoreDraws } from '../model/posterior-types.ts';
import { createRandom, type Random } from '../numeric/random.ts';
import type { Attribute } from '../panel/observations.ts';
import type { BlendSpace } from '../region/blend-space.ts';
import type { Names } from '../region/limits.ts';
import type { WeighedMix } from '../region/weighed-mix.ts';
import { bestPoint } from './best-recipe.ts';
import { type ChosenBatch, chooseBatch } from './choose-batch.ts';
import { type Described, describeRecipes, meanOf } from './describe-recipe.ts';
import { type DistanceDraws, distanceDraws, matchChance } from './distance-draws.ts';
import { highestChance } from './highest-chance.ts';
import { nextMixNames } from './mix-names.ts';
import type { NextResult, Proposal } from './next-types.ts';
import { whyProposed } from './reasons.ts';
import type { RecipeSource, WeighableRecipe } from './recipe.ts';
import { type Shortlist, shortlist } from './shortlist.ts';
import { stopAdvice } from './stopping.ts';
import { scaleLength } from './target-miss.ts';

/** What the proposals rest on once the models are fitted. */
export interface ProposeFrom {
  space: BlendSpace;
  names: Names;
  attributes: readonly Attribute[];
  /** Mixes tasted so far. */
  mixes: readonly WeighedMix[];
  /** Every name in use, also of mixes not tasted yet. */
  taken: readonly string[];
  posterior: PanelPosterior;
  source: RecipeSource;
  count: number;
  seed: number;
}

const DRAWS = 256;
/** Variance of a new mix's mean, as a part of the squared scale, where the panel's noise is not known: 5 points. */
const UNKNOWN_NOISE = 0.05 ** 2;
/** Root mean square difference, in percent of the scales, below which two mixes cannot be tasted apart. */
const ALIKE = 1;
/** The same below which one mix confirms another. */
const LIKE = 2.5;
/** From this part of the highest chance on, the best ratio itself is the first to be made. */
const CONFIRM_FROM = 0.75;

/**
 * The next mixes, what to make if tasting stopped now, and whether to stop, from a fitted posterior. The same input
 * and seed give the same answer.
 */
export function proposeFrom(input: ProposeFrom, hooks?: Hooks): NextResult {
  const random = createRandom(input.seed, 'next');
  checkpoint(hooks, 0.4, 'looking over the region');
  const list = shortlist(input.source, input.posterior, {
    attributes: input.attributes,
    reference: referenceMeans(input, random),
    random,
  });
  checkpoint(hooks, 0.6, 'drawing what the mixes may taste like');
  const table = drawTable(input, list, random);
  const best = bestPoint(table.distances, list.finalists);
  checkpoint(hooks, 0.7, 'choosing the next mixes');
  const batch = chooseBatch(batchSetup(input, { list, table, best, random }), input.count);
  checkpoint(hooks, 0.9, 'working out chances');
  return report(input, { list, table, best, batch, random });
}

/** Joint draws over the shortlist, then the mixes tasted so far. */
interface Table {
  scores: ScoreDraws;
  distances: DistanceDraws;
  /** Places of the mixes that exist. */
  existing: number[];
}

interface Chosen {
  list: Shortlist;
  table: Table;
  best: number;
  random: Random;
}

function referenceMeans(input: ProposeFrom, random: Random): (number | null)[] {
  const anywhere = input.mixes[0]!;
  return input.posterior.draws([anywhere], DRAWS, random.fork('reference')).reference.map(meanOf);
}

function drawTable(input: ProposeFrom, list: Shortlist, random: Random): Table {
  const recipes = [...list.recipes, ...input.mixes];
  const scores = input.posterior.draws(recipes, DRAWS, random.fork('table'));
  const distances = distanceDraws(input.attributes, scores);
  return { scores, distances, existing: input.mixes.map((_, i) => list.recipes.length + i) };
}

function batchSetup(input: ProposeFrom, { list, table, best, random }: Chosen) {
  const { distances, scores, existing } = table;
  return {
    draws: distances,
    fresh: list.recipes.map((_, i) => i),
    existing,
    finalists: [...new Set([...list.finalists, best])],
    noise: noiseOf(input, distances),
    learning: LEARNING,
    first: toConfirm(input, table, best) ? best : null,
    alike: (a: number, b: number) => rootMeanSquareGap(input.attributes, { scores, distances }, a, b) < ALIKE,
    random: random.fork('learning'),
  };
}

/** The last rounds lean to confirmation: a best ratio that is likely to match, and that nobody has tasted, goes first. */
function toConfirm(input: ProposeFrom, table: Table, best: number): boolean {
  const chance = matchChance(table.distances, best);
  const highest = highestChance(input.attributes, table.scores, best);
  return chance > 0 && chance >= CONFIRM_FROM * highest && !isConfirmed(input, table, best);
}

/** Weight of learning against improvement. */
const LEARNING = 0.3;

function noiseOf(input: ProposeFrom, { places }: DistanceDraws): number[] {
  return places.map((place) => {
    const known = input.posterior.mixVariance[place];
    return known ?? UNKNOWN_NOISE * scaleLength(input.attributes[place]!) ** 2;
  });
}

function rootMeanSquareGap(
  attributes: readonly Attribute[],
  { scores, distances }: Pick<Table, 'scores' | 'distances'>,
  a: number,
  b: number,
): number {
  let squares = 0;
  for (const place of distances.places) {
    const own = scores.scores[place]!;
    const percent = 100 / scaleLength(attributes[place]!);
    for (let s = 0; s < scores.count; s++)
      squares += (percent * (own[s * scores.points + a]! - own[s * scores.points + b]!)) ** 2;
  }
  return Math.sqrt(squares / (scores.count * Math.max(1, distances.places.length)));
}

function report(input: ProposeFrom, chosen: Chosen & { batch: ChosenBatch }): NextResult {
  const { list, table, best, batch, random } = chosen;
  const recipes = [best, ...batch.points].map((point) => recipeAt(input, list, point));
  const described = describeRecipes(recipes, list.recipes.slice(list.finalists.length), {
    ...input,
    random: random.fork('final'),
  });
  const stop = stopOf(input, { table, best, batch, described });
  const proposals = proposalsOf(input, { list, batch, described, recipes });
  return { proposals, best: described.recipes[0]!, stop, warnings: [] };
}

/** A shortlisted recipe, or an existing mix as it could be weighed again. */
function recipeAt(input: ProposeFrom, list: Shortlist, point: number): WeighableRecipe {
  const fresh = list.recipes[point];
  if (fresh) return fresh;
  const mix = input.mixes[point - list.recipes.length]!;
  return input.source.near(mix) ?? { ...mix, grams: mix.shares, key: mix.mix };
}

function proposalsOf(
  input: ProposeFrom,
  by: { list: Shortlist; batch: ChosenBatch; described: Described; recipes: readonly WeighableRecipe[] },
): Proposal[] {
  const { list, batch, described, recipes } = by;
  const names = nextMixNames(input.taken, batch.points.length);
  let fresh = 0;
  return batch.points.map((point, i) => {
    const again = input.mixes[point - list.recipes.length]?.mix ?? null;
    const figures = described.recipes[i + 1]!;
    const facts = {
      recipe: recipes[i + 1]!,
      again,
      chance: figures.chance,
      expected: figures.expectedDistance,
      leastKnown: leastKnown(input.attributes, described, i + 1),
    };
    const bestFacts = {
      recipe: recipes[0]!,
      chance: described.recipes[0]!.chance,
      expected: described.recipes[0]!.expectedDistance,
    };
    const why = whyProposed(input.space, input.names, facts, bestFacts);
    const mix = again ?? names[fresh++]!;
    return { mix, ...figures, why, ...(again === null ? {} : { again: true as const }) };
  });
}

function leastKnown(
  attributes: readonly Attribute[],
  { predictions, distances }: Described,
  point: number,
): Attribute | null {
  const doubts = distances.places.map((place, k) => ({
    attribute: attributes[place]!,
    doubt: distances.weights[k]! * predictions[place]!.standardError[point]! ** 2,
  }));
  return doubts.length === 0 ? null : doubts.reduce((a, b) => (b.doubt > a.doubt ? b : a)).attribute;
}

function stopOf(
  input: ProposeFrom,
  by: { table: Table; best: number; batch: ChosenBatch; described: Described },
): NextResult['stop'] {
  const { table, batch, described } = by;
  const highest = highestChance(input.attributes, described.scores, 0);
  const { weights, weightOf } = table.distances;
  const noise = noiseOf(input, table.distances).reduce((sum, v, k) => sum + weights[k]! * v, 0) / weightOf;
  const advice = stopAdvice({
    chance: matchChance(described.distances, 0),
    highestChance: highest,
    before: batch.before,
    after: batch.after,
    panelStep: Math.sqrt(noise),
    confirmed: isConfirmed(input, by.table, by.best),
    reachable: reachable(table.distances),
    holdsBack: [],
    onLimits: [],
  });
  return { ...advice, highestChance: highest, before: batch.before, after: batch.after };
}

/** Whether some tasted mix differs from the best by less than a panel tells apart in a few cups. */
function isConfirmed(input: ProposeFrom, { scores, distances, existing }: Table, best: number): boolean {
  return existing.some((i) => rootMeanSquareGap(input.attributes, { scores, distances }, i, best) < LIKE);
}

/** Share of draws in which some point matches. */
function reachable({ count, points, matches }: DistanceDraws): number {
  let met = 0;
  for (let s = 0; s < count; s++) if (matches.subarray(s * points, (s + 1) * points).includes(1)) met++;
  return met / count;
}
