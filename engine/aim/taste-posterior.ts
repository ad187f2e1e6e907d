import type { Random } from '../numeric/random.ts';
import type { Recipe } from './recipe.ts';

/** Joint draws of every attribute's panel average: `scores[k][draw · points + point]`. */
export interface ScoreDraws {
  count: number;
  points: number;
  scores: readonly Float64Array[];
  /** The reference's own average in each draw; null where it was not tasted on that attribute. */
  reference: readonly (Float64Array | null)[];
}

/** One attribute's prediction at each of the given points. */
export interface ScorePrediction {
  mean: Float64Array;
  standardError: Float64Array;
  /** Ends of the 95 % interval. */
  low: Float64Array;
  high: Float64Array;
}

/** What is believed about this panel's average scores over the region, attribute by attribute in ballot order. */
export interface TastePosterior {
  predict(recipes: readonly Recipe[]): readonly ScorePrediction[];
  draws(recipes: readonly Recipe[], count: number, random: Random): ScoreDraws;
  /**
   * By attribute: variance of the mean of one new mix tasted once by the whole panel, about its true average
   * (cup noise and assessor by mix over the assessors); null where it is not known.
   */
  mixVariance: readonly (number | null)[];
}
