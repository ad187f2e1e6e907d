import { onScale } from '../model/chance.ts';
import type { PanelPosterior, ScoreDraws, ScorePrediction } from '../model/posterior-types.ts';
import type { Attribute } from '../panel/observations.ts';
import type { BlendSpace } from '../region/blend-space.ts';
import { type DistanceDraws, distanceDraws, expectedDistance, matchChance } from './distance-draws.ts';
import { finalDraws } from './final-draws.ts';
import type { Judged } from './judged.ts';
import type { PredictedScore, ProposedRecipe } from './next-types.ts';
import type { WeighableRecipe } from './recipe.ts';
import { aimedAt, missOf, scaleLength } from './target-miss.ts';

/** Final figures of a few recipes, from many joint draws, and the draws themselves. */
export interface Described {
  recipes: ProposedRecipe[];
  predictions: readonly ScorePrediction[];
  scores: ScoreDraws;
  distances: DistanceDraws;
}

/**
 * Prediction, chance and distance of recipes.
 * No chance is given where something that is aimed at cannot be judged, and nothing is predicted of what nobody scored.
 *
 * @param cover recipes spread over the region, which `most` and `least` are compared with in each draw
 */
export function describeRecipes(
  recipes: readonly WeighableRecipe[],
  cover: readonly WeighableRecipe[],
  by: { space: BlendSpace; judged: Judged; posterior: PanelPosterior; seed: number },
): Described {
  const { space, judged, posterior, seed } = by;
  const { attributes } = judged;
  const scores = finalDraws(recipes, { attributes, posterior, cover, seed });
  const distances = distanceDraws(attributes, scores, recipes.length);
  // the recipes by themselves, since intervals of many points share their degrees of freedom
  const predictions = posterior.predict(recipes);
  const around = scores.points > recipes.length ? posterior.predict(cover) : null;
  return {
    recipes: recipes.map((recipe, i) => ({
      ratios: byId(space.components, recipe.shares),
      grams: byId(space.components, recipe.grams),
      ...(recipe.weigh ? { weigh: recipe.weigh } : {}),
      settings: byId(space.settings, recipe.settings),
      predicted: predictedScores({ judged, predictions, distances }, i),
      chance: judged.missing.length > 0 ? null : matchChance(distances, i),
      distance: distanceOfMeans({ attributes, predictions, around, scores }, i),
      expectedDistance: expectedDistance(distances, i),
    })),
    predictions,
    scores,
    distances,
  };
}

function predictedScores(
  by: { judged: Judged; predictions: readonly ScorePrediction[]; distances: DistanceDraws },
  point: number,
): Record<string, PredictedScore> {
  return Object.fromEntries(
    by.judged.attributes.flatMap((attribute, k): [string, PredictedScore][] => {
      if (by.judged.unscored.has(attribute.id)) return [];
      const { mean, standardError, low, high } = by.predictions[k]!;
      return [
        [
          attribute.id,
          {
            mean: onScale(attribute, mean[point]!),
            standardError: standardError[point]!,
            interval: [onScale(attribute, low[point]!), onScale(attribute, high[point]!)],
            chance: withinTolerance(by.distances, k, { tolerance: attribute.tolerance, point }),
          },
        ],
      ];
    }),
  );
}

function withinTolerance(
  { count, points, places, misses }: DistanceDraws,
  place: number,
  at: { tolerance: number; point: number },
): number | null {
  const own = misses[places.indexOf(place)];
  if (own === undefined) return null;
  let met = 0;
  for (let s = 0; s < count; s++) if (Math.abs(own[s * points + at.point]!) <= at.tolerance) met++;
  return met / count;
}

/** Distance of the predicted means, each compared with the mean yardstick of its target. */
function distanceOfMeans(
  by: {
    attributes: readonly Attribute[];
    predictions: readonly ScorePrediction[];
    /** Predictions all over the region, where something is compared with it. */
    around: readonly ScorePrediction[] | null;
    scores: ScoreDraws;
  },
  point: number,
): number {
  let squares = 0;
  let weights = 0;
  for (const { attribute, place, target } of aimedAt(by.attributes)) {
    const reference = meanOf(by.scores.reference[place] ?? null);
    if (target.kind === 'reference' && reference === null) continue;
    const mean = onScale(attribute, by.predictions[place]!.mean[point]!);
    const means = Array.from(by.around?.[place]?.mean ?? [], (score) => onScale(attribute, score));
    const yardstick = { reference, least: Math.min(...means), most: Math.max(...means) };
    const percent = (100 * missOf(target, mean, yardstick)) / scaleLength(attribute);
    squares += attribute.weight * percent ** 2;
    weights += attribute.weight;
  }
  return weights > 0 ? Math.sqrt(squares / weights) : 0;
}

export function meanOf(values: Float64Array | null): number | null {
  return values === null ? null : values.reduce((a, b) => a + b, 0) / values.length;
}

function byId(list: readonly { id: string }[], values: readonly number[]): Record<string, number> {
  return Object.fromEntries(list.map(({ id }, i) => [id, values[i]!]));
}
