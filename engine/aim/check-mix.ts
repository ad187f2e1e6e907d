import type { PanelPosterior, Point } from '../model/posterior-types.ts';
import type { Random } from '../numeric/random.ts';
import type { Attribute } from '../panel/observations.ts';
import type { Names } from '../region/limits.ts';
import { ALIKE } from './draw-table.ts';
import { calledBy } from './judged.ts';
import type { RecipeSource, WeighableRecipe } from './recipe.ts';
import { scaleLength } from './target-miss.ts';

/** A ratio at which the models that are averaged disagree most. */
export interface CheckMix {
  recipe: WeighableRecipe;
  /** Between the models that differ most there, on the attribute where it stands out most from the panel's noise. */
  attribute: string;
  /** In scale units. */
  gap: number;
  why: string;
}

const LOOKED_AT = 300;
/** Variance between models, summed over attributes in units of the noise of one new mix, that is worth a bottle. */
const WORTH = 1;

/**
 * Looks over the region for the weighable ratio at which the averaged models disagree most: the variance between their
 * means by weight, in units of the variance of one new mix's mean, summed over the attributes. One tasting there
 * tells most about which of them is right (after the T-criterion's idea: Atkinson and Fedorov 1975, Biometrika 62).
 *
 * @param apart mixes that exist, wait or are proposed already: nothing that is predicted to taste like them is offered
 * @returns null where the models agree everywhere to within what one new mix can show
 */
export function checkMix(by: {
  attributes: readonly Attribute[];
  names: Names;
  posterior: PanelPosterior;
  source: RecipeSource;
  apart: readonly Point[];
  affordable(recipe: WeighableRecipe): boolean;
  random: Random;
}): CheckMix | null {
  const { attributes, names, posterior, source, apart, random } = by;
  const recipes = source.spread(LOOKED_AT, random).filter(by.affordable);
  if (recipes.length === 0) return null;
  const between = posterior.betweenModels(recipes);
  const noises = attributes.map((_, k) => posterior.mixVariance[k] ?? null);
  const scores = recipes.map((_, i) =>
    between.reduce((sum, { variance }, k) => sum + (noises[k] ? variance[i]! / noises[k]! : 0), 0),
  );
  const isAlike = alikeTo(attributes, posterior.predict([...recipes, ...apart]), recipes.length);
  const order = recipes.map((_, i) => i).sort((a, b) => scores[b]! - scores[a]! || a - b);
  const at = order.find((i) => scores[i]! >= WORTH && !isAlike(i));
  if (at === undefined) return null;
  const standsOut = (k: number) => (noises[k] ? between[k]!.variance[at]! / noises[k]! : 0);
  const k = attributes.map((_, place) => place).reduce((a, b) => (standsOut(b) > standsOut(a) ? b : a));
  const gap = between[k]!.gap[at]!;
  const name = calledBy(names, attributes[k]!.id);
  const size = gap >= 10 ? gap.toFixed(0) : String(Number(gap.toPrecision(2)));
  return {
    recipe: recipes[at]!,
    attribute: attributes[k]!.id,
    gap,
    why: `The models disagree here by ${size} ${size === '1' ? 'point' : 'points'} on ${name}: one pour tells which of them to trust.`,
  };
}

/** Whether a looked-at recipe is predicted to taste like one of those that follow it. */
function alikeTo(
  attributes: readonly Attribute[],
  predictions: ReturnType<PanelPosterior['predict']>,
  first: number,
): (i: number) => boolean {
  const total = predictions[0]?.mean.length ?? 0;
  return (i) => {
    for (let j = first; j < total; j++) {
      const squares = attributes.reduce((sum, attribute, k) => {
        const { mean } = predictions[k]!;
        return sum + ((100 * (mean[i]! - mean[j]!)) / scaleLength(attribute)) ** 2;
      }, 0);
      if (Math.sqrt(squares / Math.max(1, attributes.length)) < ALIKE) return true;
    }
    return false;
  };
}
