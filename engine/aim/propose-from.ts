import { checkpoint, type Hooks } from '../hooks.ts';
import type { PanelPosterior } from '../model/posterior-types.ts';
import { createRandom, type Random } from '../numeric/random.ts';
import type { Attribute } from '../panel/observations.ts';
import type { BlendSpace } from '../region/blend-space.ts';
import type { Names } from '../region/limits.ts';
import type { WeighedMix } from '../region/weighed-mix.ts';
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
  const setup = { ...input, attributes: input.judged.attributes, effort: WHOLE_EFFORT, random };
  const found = searchBatch(setup, hooks);
  checkpoint(hooks, 0.9, 'working out chances');
  return report(input, { ...found, random });
}

function report(input: ProposeFrom, chosen: FoundBatch & { random: Random }): Omit<NextResult, 'warnings'> {
  const { list, batch, best, reference, random } = chosen;
  const { attributes } = input.judged;
  const recipes = [best, ...batch.points].map((point) => recipeAt(input, list, point));
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
