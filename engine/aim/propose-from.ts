import { checkpoint, type Hooks } from '../hooks.ts';
import type { PanelPosterior } from '../model/posterior-types.ts';
import { createRandom, type Random } from '../numeric/random.ts';
import type { Attribute } from '../panel/observations.ts';
import type { BlendSpace } from '../region/blend-space.ts';
import type { Names } from '../region/limits.ts';
import type { WeighedMix } from '../region/weighed-mix.ts';
import { bestPoint } from './best-recipe.ts';
import { type ChosenBatch, chooseBatch } from './choose-batch.ts';
import { type Described, describeRecipes, meanOf } from './describe-recipe.ts';
import { matchChance } from './distance-draws.ts';
import { type DrawTable, drawTable, noiseOf, tasteGap } from './draw-table.ts';
import { roundFormulas } from './formulas.ts';
import { highestChance } from './highest-chance.ts';
import type { Judged } from './judged.ts';
import { nextMixNames } from './mix-names.ts';
import type { NextResult, Proposal } from './next-types.ts';
import { whyProposed } from './reasons.ts';
import type { Recipe, RecipeSource, WeighableRecipe } from './recipe.ts';
import type { RelaxedLimit, RelaxingSetup } from './relaxed-limits.ts';
import { type Shortlist, shortlist } from './shortlist.ts';
import { isConfirmed, stopOf } from './stop-evidence.ts';

/** What the proposals rest on once the models are fitted. */
export interface ProposeFrom {
  space: BlendSpace;
  names: Names;
  /** What can be aimed at. */
  judged: Judged;
  /** Mixes tasted so far. */
  mixes: readonly WeighedMix[];
  /** Mixes that are weighed and wait to be tasted: nothing like them is proposed again. */
  waiting: readonly WeighedMix[];
  posterior: PanelPosterior;
  source: RecipeSource;
  /** What giving way at the limits of the best ratio would bring. */
  relax(best: Recipe, by: Pick<RelaxingSetup, 'attributes' | 'reference' | 'random'>): RelaxedLimit[];
  count: number;
  seed: number;
  /** Mass of one mix, in grams. */
  grams: number;
  /** Grams on hand, in the order of the components; infinite where nothing is short. */
  onHand: readonly number[];
}

const REFERENCE_DRAWS = 256;
/** Root mean square difference, in percent of the scales, below which two mixes cannot be tasted apart. */
const ALIKE = 1;
/** From this part of the highest chance on, the best ratio itself is the first to be made. */
const CONFIRM_FROM = 0.75;
/** Weight of learning against improvement. */
const LEARNING = 0.3;

interface Chosen {
  reference: readonly (number | null)[];
  list: Shortlist;
  table: DrawTable;
  best: number;
  random: Random;
}

/**
 * The next mixes, what to make if tasting stopped now, and whether to stop, from a fitted posterior. The same input
 * and seed give the same answer.
 */
export function proposeFrom(input: ProposeFrom, hooks?: Hooks): Omit<NextResult, 'warnings'> {
  const random = createRandom(input.seed, 'next');
  const { attributes } = input.judged;
  checkpoint(hooks, 0.4, 'looking over the region');
  const reference = referenceMeans(input, random);
  const affordable = (recipe: WeighableRecipe) => enough([recipe], input.onHand);
  const list = shortlist(input.source, input.posterior, { attributes, reference, affordable, random });
  checkpoint(hooks, 0.6, 'drawing what the mixes may taste like');
  const table = drawTable(list, { ...input, attributes, random: random.fork('table') });
  const best = bestPoint(table.distances, list.finalists);
  const chosen = { reference, list, table, best, random };
  checkpoint(hooks, 0.7, 'choosing the next mixes');
  const batch = chooseBatch(batchSetup(input, chosen), input.count);
  checkpoint(hooks, 0.9, 'working out chances');
  return report(input, { ...chosen, batch });
}

function referenceMeans(input: ProposeFrom, random: Random): (number | null)[] {
  const anywhere = input.mixes[0]!;
  const { reference } = input.posterior.draws([anywhere], REFERENCE_DRAWS, random.fork('reference'));
  return reference.map(meanOf);
}

function batchSetup(input: ProposeFrom, { list, table, best, random }: Chosen) {
  const { attributes } = input.judged;
  const { distances, existing, waiting } = table;
  return {
    draws: distances,
    fresh: list.recipes.map((_, i) => i),
    existing,
    waiting,
    finalists: [...new Set([...list.finalists, best])],
    noise: noiseOf(attributes, input.posterior, distances),
    learning: LEARNING,
    first: toConfirm(attributes, table, best) ? best : null,
    affordable: (points: readonly number[]) =>
      enough(
        points.flatMap((i) => list.recipes[i] ?? []),
        input.onHand,
      ),
    alike: (a: number, b: number) => tasteGap(attributes, table, a, b) < ALIKE,
    random: random.fork('learning'),
  };
}

/** Whether what is on hand suffices for all of these mixes together. */
function enough(recipes: readonly WeighableRecipe[], onHand: readonly number[]): boolean {
  return onHand.every((grams, c) => {
    return recipes.reduce((sum, recipe) => sum + recipe.grams[c]!, 0) <= grams + 1e-9;
  });
}

/** The last rounds lean to confirmation: a best ratio that is likely to match, and that nobody has tasted, goes first. */
function toConfirm(attributes: readonly Attribute[], table: DrawTable, best: number): boolean {
  const chance = matchChance(table.distances, best);
  const highest = highestChance(attributes, table.scores, best);
  if (chance === 0 || chance < CONFIRM_FROM * highest) return false;
  const { existing, waiting } = table;
  return !isConfirmed(attributes, { ...table, existing: [...existing, ...waiting] }, best);
}

function report(input: ProposeFrom, chosen: Chosen & { batch: ChosenBatch }): Omit<NextResult, 'warnings'> {
  const { list, batch, best, reference, random } = chosen;
  const { attributes } = input.judged;
  const recipes = [best, ...batch.points].map((point) => recipeAt(input, list, point));
  const described = describeRecipes(recipes, list.recipes.slice(list.finalists.length), {
    ...input,
    random: random.fork('final'),
  });
  const stop = stopOf({
    ...input,
    ...chosen,
    attributes,
    blendsNeeded: blendsNeeded(input.space),
    missing: input.judged.missing,
    described,
    relax: () => input.relax(recipes[0]!, { attributes, reference, random: random.fork('relaxed') }),
  });
  const proposals = proposalsOf(input, { list, batch, described, recipes });
  const cover = list.recipes.slice(list.finalists.length);
  const formulas =
    input.judged.missing.length > 0
      ? []
      : roundFormulas(recipes[0]!, {
          ...input,
          attributes,
          cover,
          allows: (recipe) => input.source.allows(recipe),
          random: random.fork('formulas'),
        });
  return { proposals, best: described.recipes[0]!, formulas, stop };
}

/** As many as there are components and settings that vary: below that a plane through the scores is not settled. */
export function blendsNeeded({ components, settings }: BlendSpace): number {
  return components.length + settings.filter(({ low, high }) => high > low).length;
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
  const taken = [...input.mixes, ...input.waiting].map(({ mix }) => mix);
  const names = nextMixNames(taken, batch.points.length);
  let fresh = 0;
  return batch.points.map((point, i) => {
    const again = input.mixes[point - list.recipes.length]?.mix ?? null;
    const figures = described.recipes[i + 1]!;
    const facts = {
      recipe: recipes[i + 1]!,
      again,
      chance: figures.chance,
      expected: figures.expectedDistance,
      leastKnown: leastKnown(input.judged.attributes, described, i + 1),
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
