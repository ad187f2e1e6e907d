import type { Random } from '../numeric/random.ts';
import type { FitStatus, ModelName } from './fit-types.ts';

/** Where to predict: shares in the order of the components, settings in their natural units. */
export interface Point {
  shares: readonly number[];
  settings: readonly number[];
}

/** One attribute's predictions, an entry a point; not yet cut off at the ends of the scale. */
export interface ScorePrediction {
  mean: Float64Array;
  standardError: Float64Array;
  /** Ends of the 95 % interval. */
  low: Float64Array;
  high: Float64Array;
}

/** Joint draws of every attribute's panel average: `scores[k][draw · points + point]`. */
export interface ScoreDraws {
  count: number;
  points: number;
  scores: Float64Array[];
  /** The reference's own average in each draw; null where it was not tasted on that attribute. */
  reference: (Float64Array | null)[];
}

/** How far the averaged models' means lie apart at each point, in scale units; 0 where there is one. */
export interface BetweenModels {
  /** Variance by their weights. */
  variance: Float64Array;
  /** From the lowest to the highest. */
  gap: Float64Array;
}

export interface PosteriorOptions {
  /** `panel` (default): the average of this panel's own assessors. `population`: of as many new ones. */
  for?: 'panel' | 'population' | undefined;
  /**
   * For a search among many ratios: a process alone is gone by where the scores carry no sum of terms (default: such
   * an attribute is unknown), and its draws are of the surface itself. Default: they have the spread of the
   * intervals, with what these assessors' own reactions to a single ratio add.
   */
  search?: boolean | undefined;
}

/** What is believed of the panel's average scores at any ratio. */
export interface PanelPosterior {
  /** By attribute: whether it could be modelled, why not, and the models it is averaged over. */
  attributes: readonly {
    id: string;
    status: FitStatus;
    reason: string | null;
    weights: readonly { model: ModelName; weight: number }[];
  }[];
  /**
   * The variance of the mean of one new mix tasted once by the whole panel, about its true average; null where it is
   * not known.
   */
  mixVariance: readonly (number | null)[];
  predict(points: readonly Point[]): ScorePrediction[];
  /** One an attribute. */
  betweenModels(points: readonly Point[]): BetweenModels[];
  draws(points: readonly Point[], count: number, random: Random): ScoreDraws;
  /**
   * Draws of each point together with the cover but not with the other points, from the same random numbers for each:
   * what a point gets does not depend on its company. Points first, then the cover.
   */
  drawsApart(
    by: { points: readonly Point[]; cover: readonly Point[] },
    count: number,
    random: Random,
  ): ScoreDraws;
}
