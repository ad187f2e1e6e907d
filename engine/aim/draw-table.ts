import type { PanelPosterior, ScoreDraws } from '../model/posterior-types.ts';
import type { Random } from '../numeric/random.ts';
import type { Attribute } from '../panel/observations.ts';
import type { WeighedMix } from '../region/weighed-mix.ts';
import { type DistanceDraws, distanceDraws } from './distance-draws.ts';
import type { Effort } from './effort.ts';
import type { Shortlist } from './shortlist.ts';
import { scaleLength } from './target-miss.ts';

/** Joint draws over the shortlist, the mixes tasted so far, then those that wait to be tasted. */
export interface DrawTable {
  scores: ScoreDraws;
  distances: DistanceDraws;
  /** Places of the mixes that have been tasted. */
  existing: number[];
  /** Places of the mixes that are weighed and wait to be tasted. */
  waiting: number[];
}

/** Variance of a new mix's mean, as a part of the squared scale, where the panel's noise is not known: 5 points. */
const UNKNOWN_NOISE = 0.05 ** 2;

export function drawTable(
  list: Shortlist,
  by: {
    attributes: readonly Attribute[];
    posterior: PanelPosterior;
    mixes: readonly WeighedMix[];
    waiting: readonly WeighedMix[];
    effort: Effort;
    random: Random;
  },
): DrawTable {
  const { attributes, posterior, mixes, waiting, effort, random } = by;
  const scores = posterior.draws([...list.recipes, ...mixes, ...waiting], effort.draws, random);
  const from = list.recipes.length;
  return {
    scores,
    distances: distanceDraws(attributes, scores),
    existing: mixes.map((_, i) => from + i),
    waiting: waiting.map((_, i) => from + mixes.length + i),
  };
}

/** Root mean square difference, in percent of the scales, below which two mixes cannot be tasted apart. */
export const ALIKE = 1;

/** Root mean square difference of two points over draws and aimed attributes, in percent of the scales. */
export function tasteGap(
  attributes: readonly Attribute[],
  { scores, distances }: Pick<DrawTable, 'scores' | 'distances'>,
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

/** By attribute that counts: variance of the mean of one new mix, tasted once by the whole panel. */
export function noiseOf(
  attributes: readonly Attribute[],
  posterior: PanelPosterior,
  { places }: DistanceDraws,
): number[] {
  return places.map((place) => {
    const known = posterior.mixVariance[place];
    return known ?? UNKNOWN_NOISE * scaleLength(attributes[place]!) ** 2;
  });
}
