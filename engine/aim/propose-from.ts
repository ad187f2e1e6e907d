import { checkpoint, type Hooks } from '../hooks.ts';
import type { PanelPosterior } from '../model/posterior-types.ts';
import { createRandom, type Random } from '../numeric/random.ts';
import type { Attribute } from '../panel/observations.ts';
import type { BlendSpace } from '../region/blend-space.ts';
import type { Names } from '../region/limits.ts';
import type { WeighedMix } from '../region/weighed-mix.ts';
import { type CheckMix, checkMix } from './check-mix.ts';
import type { ChosenBatch } from './choose-batch.ts';
import { type Described, describeRecipes } from './describe-recipe.ts';
import { WHOLE_EFFORT } from './effort.ts';
import { roundFormulas } from './formulas.ts';
import type { Judged } from './judged.ts';
import { nextMixNames } from './mix-names.ts';
import type { NextResult, Proposal } from './next-types.ts';
import { whyProposed } from './reasons.ts';
import type { Recipe, RecipeSource, WeighableRecipe } from './recipe.ts';
import type { RelaxedLimit, RelaxingSetup } from './relaxed-limits.ts';
import { type FoundBatch, searchBatch } from './search-batch.ts';
import type { Shortlist } from './shortlist.ts';
import { stopOf } from './stop-evidence.ts';

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
  /** Whether the last of them is to be a check mix. */
  settle?: boolean | undefined;
  seed: number;
  /** Mass of one mix, in grams. */
  grams: number;
  /** Grams on hand, in the order of the components; infinite where nothing is short. */
  onHand: readonly number[];
}

/**
 * The next mixes, what to make if tasting stopped now, and whether to stop, from a fitted posterior. The same input
 * and seed give the same answer.
 */
export function proposeFrom(input: ProposeFrom, hooks?: Hooks): Omit<NextResult, 'warnings'> {
  const random = createRandom(input.seed, 'next');
  const { attributes } = input.judged;
  const asked = input.settle ? lookForCheck(input, [], random) : null;
  const setup = { ...input, attributes, effort: WHOLE_EFFORT, random, ...besides(input, asked) };
  const found = searchBatch(setup, hooks);
  checkpoint(hooks, 0.9, 'working out chances');
  return report(input, { ...found, random }, asked);
}

/** A mix that is settled beforehand takes one of the places, and nothing like it is proposed. */
function besides({ count, waiting }: ProposeFrom, check: CheckMix | null) {
  if (check === null) return {};
  const { shares, settings, key } = check.recipe;
  return { count: count - 1, waiting: [...waiting, { mix: key, blend: key, shares, settings }] };
}

function lookForCheck(input: ProposeFrom, apart: readonly Recipe[], random: Random): CheckMix | null {
  const { judged, mixes, waiting, onHand } = input;
  return checkMix({
    ...{ ...input, attributes: judged.attributes, random: random.fork('check') },
    apart: [...mixes, ...waiting, ...apart],
    affordable: ({ grams }) => onHand.every((most, c) => grams[c]! <= most + 1e-9),
  });
}

function report(
  input: ProposeFrom,
  chosen: FoundBatch & { random: Random },
  asked: CheckMix | null,
): Omit<NextResult, 'warnings'> {
  const { list, batch, best, reference, random } = chosen;
  const { attributes } = input.judged;
  const found = [best, ...batch.points].map((point) => recipeAt(input, list, point));
  const check = asked ?? lookForCheck(input, found, random);
  const recipes = check === null ? found : [...found, check.recipe];
  const described = describeRecipes(recipes, list.recipes.slice(list.finalists.length), input);
  const stop = stopOf({
    ...input,
    ...chosen,
    attributes,
    blendsNeeded: blendsNeeded(input.space),
    missing: input.judged.missing,
    described,
    relax: () => input.relax(recipes[0]!, { attributes, reference, random: random.fork('relaxed') }),
  });
  const made = proposalsOf(input, { list, batch, described, recipes, check });
  const isOffered = check !== null && asked === null;
  const proposals = isOffered ? made.slice(0, -1) : made;
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
  return {
    proposals,
    checkMix: isOffered ? made[made.length - 1]! : null,
    best: described.recipes[0]!,
    formulas,
    stop,
  };
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
  by: {
    list: Shortlist;
    batch: ChosenBatch;
    described: Described;
    /** The best, the batch, then the check mix where there is one. */
    recipes: readonly WeighableRecipe[];
    check: CheckMix | null;
  },
): Proposal[] {
  const { list, batch, described, recipes, check } = by;
  const taken = [...input.mixes, ...input.waiting].map(({ mix }) => mix);
  const names = nextMixNames(taken, recipes.length - 1);
  let fresh = 0;
  const proposed = batch.points.map((point, i): Proposal => {
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
  if (check === null) return proposed;
  const { attribute, gap, why } = check;
  const figures = described.recipes[recipes.length - 1]!;
  return [...proposed, { mix: names[fresh]!, ...figures, why, disagreement: { attribute, gap } }];
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
