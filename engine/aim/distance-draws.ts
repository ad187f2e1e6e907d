import { onScale } from '../model/chance.ts';
import type { ScoreDraws } from '../model/posterior-types.ts';
import type { Attribute } from '../panel/observations.ts';
import { aimedAt, missOf, scaleLength, type Yardstick } from './target-miss.ts';

/** Misses, distances and matches of every point in every draw, each array by draw · points + point. */
export interface DistanceDraws {
  count: number;
  points: number;
  /** Places on the ballot of the attributes that count, and signed misses of each in scale units. */
  places: readonly number[];
  misses: readonly Float64Array[];
  /** By attribute that counts: weight · (100 / scale length)², so that squared misses add to a squared distance. */
  weights: readonly number[];
  /** Root of the weighted mean square miss, each in percent of its scale. */
  distance: Float64Array;
  /** Sum of the attributes' own weights: distance² = Σ weights·miss² / weightOf. */
  weightOf: number;
  /** 1 where every aimed attribute lies within its tolerance. */
  matches: Uint8Array;
}

/**
 * Turns draws of scores into draws of the distance to the target. Scores are first cut off at the ends of their
 * scale, as the panel's average can never lie beyond. For `most` and `least` each draw is compared with its own
 * best among the points of the cover; a reference that was never tasted on an attribute leaves
 * that attribute out.
 *
 * @param cover the place from which on points cover the region; default all do
 */
export function distanceDraws(attributes: readonly Attribute[], draws: ScoreDraws, cover = 0): DistanceDraws {
  const { count, points } = draws;
  const aimed = aimedAt(attributes).filter(
    ({ target, place }) => target.kind !== 'reference' || draws.reference[place] !== null,
  );
  const distance = new Float64Array(count * points);
  const matches = new Uint8Array(count * points).fill(1);
  const weights = aimed.reduce((sum, { attribute }) => sum + attribute.weight, 0);
  const misses = aimed.map(({ attribute, target, place }) => {
    const own = new Float64Array(count * points);
    const percent = 100 / scaleLength(attribute);
    for (let s = 0; s < count; s++) {
      const from = s * points;
      const scores = draws.scores[place]!.subarray(from, from + points);
      const yardstick = yardstickOf(attribute, scores.subarray(cover), draws.reference[place]?.[s] ?? null);
      for (let i = 0; i < points; i++) {
        const miss = missOf(target, onScale(attribute, scores[i]!), yardstick);
        own[from + i] = miss;
        distance[from + i]! += attribute.weight * (percent * miss) ** 2;
        if (Math.abs(miss) > attribute.tolerance) matches[from + i] = 0;
      }
    }
    return own;
  });
  for (let j = 0; j < distance.length; j++) distance[j] = weights > 0 ? Math.sqrt(distance[j]! / weights) : 0;
  return {
    count,
    points,
    places: aimed.map(({ place }) => place),
    misses,
    weights: aimed.map(({ attribute }) => attribute.weight * (100 / scaleLength(attribute)) ** 2),
    distance,
    weightOf: weights > 0 ? weights : 1,
    matches,
  };
}

function yardstickOf(attribute: Attribute, scores: Float64Array, reference: number | null): Yardstick {
  const yardstick: Yardstick = { reference, least: Infinity, most: -Infinity };
  if (attribute.target?.kind !== 'most' && attribute.target?.kind !== 'least') return yardstick;
  for (const score of scores) {
    const cut = onScale(attribute, score);
    yardstick.least = Math.min(yardstick.least, cut);
    yardstick.most = Math.max(yardstick.most, cut);
  }
  return yardstick;
}

/** Mean over draws of a point's distance. */
export function expectedDistance(draws: DistanceDraws, point: number): number {
  let sum = 0;
  for (let s = 0; s < draws.count; s++) sum += draws.distance[s * draws.points + point]!;
  return sum / draws.count;
}

/** Share of draws in which a point matches. */
export function matchChance(draws: DistanceDraws, point: number): number {
  let sum = 0;
  for (let s = 0; s < draws.count; s++) sum += draws.matches[s * draws.points + point]!;
  return sum / draws.count;
}
