import type { PanelPosterior, ScorePrediction } from '../model/posterior-types.ts';
import type { Random } from '../numeric/random.ts';
import type { Attribute } from '../panel/observations.ts';
import type { Effort } from './effort.ts';
import type { RecipeSource, WeighableRecipe } from './recipe.ts';
import { type Screened, screen } from './screening.ts';

/** The recipes worth joint draws. */
export interface Shortlist {
  recipes: WeighableRecipe[];
  /** Places in `recipes` of those that might be recommended in the end. */
  finalists: number[];
}

/** How far around the best it looks again, as a part of the way toward other recipes of the region. */
const REACHES = [0.2, 0.07];

/**
 * Looks over the whole region, then twice around the best, and keeps the recipes with the least expected distance
 * (the finalists), those that might turn out nearest, those that are predicted highest and lowest on each attribute
 * that is to be most or least, and a few spread over the region.
 */
export function shortlist(
  source: RecipeSource,
  posterior: PanelPosterior,
  by: {
    attributes: readonly Attribute[];
    reference: readonly (number | null)[];
    /** Whether there is enough on hand to make it. */
    affordable(recipe: WeighableRecipe): boolean;
    effort: Effort;
    random: Random;
  },
): Shortlist {
  const { attributes, reference, affordable, effort, random } = by;
  const recipes = source.spread(effort.spread, random.fork('spread'));
  const known = new Set(recipes.map(({ key }) => key));
  let predictions = posterior.predict(recipes);
  let screened = screen(attributes, predictions, reference);
  for (const reach of REACHES) {
    for (const start of lowest(screened, 'expected', effort.starts)) {
      const stream = random.fork(`around ${reach} ${start}`);
      const near = source.around(recipes[start]!, reach, effort.neighbours, stream);
      for (const recipe of near) if (!known.has(recipe.key)) recipes.push(recipe);
      for (const { key } of near) known.add(key);
    }
    predictions = joined(predictions, posterior.predict(recipes.slice(screened.length)));
    screened = screen(attributes, predictions, reference);
  }
  const finalists = lowest(screened, 'expected', effort.finalists);
  const others = [
    ...lowest(screened, 'hopeful', effort.hopeful),
    ...nearestAffordable(recipes, screened, { affordable, count: effort.finalists }),
    ...extremes(attributes, predictions),
    ...Array.from({ length: effort.cover }, (_, i) => Math.floor((i * recipes.length) / effort.cover)),
  ];
  const kept = [...new Set([...finalists, ...others])];
  return { recipes: kept.map((i) => recipes[i]!), finalists: finalists.map((_, place) => place) };
}

function lowest(screened: readonly Screened[], by: 'expected' | 'hopeful', count: number): number[] {
  const order = screened.map((_, i) => i);
  return order.sort((a, b) => screened[a]![by] - screened[b]![by] || a - b).slice(0, count);
}

/** Where something is short: the nearest among what can still be made. */
function nearestAffordable(
  recipes: readonly WeighableRecipe[],
  screened: readonly Screened[],
  { affordable, count }: { affordable: (recipe: WeighableRecipe) => boolean; count: number },
): number[] {
  if (recipes.every(affordable)) return [];
  return lowest(screened, 'hopeful', screened.length)
    .filter((i) => affordable(recipes[i]!))
    .slice(0, count);
}

/** The three highest or lowest predictions of each attribute that is to be most or least. */
function extremes(attributes: readonly Attribute[], predictions: readonly ScorePrediction[]): number[] {
  return attributes.flatMap(({ target }, k) => {
    if (target?.kind !== 'most' && target?.kind !== 'least') return [];
    const sign = target.kind === 'most' ? -1 : 1;
    const { mean } = predictions[k]!;
    const order = Array.from(mean, (_, i) => i).sort((a, b) => sign * (mean[a]! - mean[b]!) || a - b);
    return order.slice(0, 3);
  });
}

function joined(first: readonly ScorePrediction[], second: readonly ScorePrediction[]): ScorePrediction[] {
  return first.map((own, k) => {
    const more = second[k]!;
    return {
      mean: concat(own.mean, more.mean),
      standardError: concat(own.standardError, more.standardError),
      low: concat(own.low, more.low),
      high: concat(own.high, more.high),
    };
  });
}

function concat(a: Float64Array, b: Float64Array): Float64Array {
  const both = new Float64Array(a.length + b.length);
  both.set(a);
  both.set(b, a.length);
  return both;
}
