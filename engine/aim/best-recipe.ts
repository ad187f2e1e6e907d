import { type DistanceDraws, expectedDistance, matchChance } from './distance-draws.ts';

/** Chances nearer than this, or than two standard errors of their draws, count as equal. */
const TIE = 0.02;

/**
 * What to make if tasting stopped now: the point with the highest chance of a match; among those whose chance is as
 * good as equal, the one with the least expected distance. Where no draw matches anywhere, the least expected
 * distance decides alone.
 */
export function bestPoint(draws: DistanceDraws, among: readonly number[]): number {
  const judged = among.map((point) => ({
    point,
    chance: matchChance(draws, point),
    distance: expectedDistance(draws, point),
  }));
  const highest = Math.max(...judged.map(({ chance }) => chance));
  const noise = 2 * Math.sqrt((highest * (1 - highest)) / draws.count);
  const tied = judged.filter(({ chance }) => chance >= highest - Math.max(TIE, noise));
  return tied.reduce((a, b) => (b.distance < a.distance ? b : a)).point;
}
