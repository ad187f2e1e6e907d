import { referenceScores, trueScores } from '../../trials/demo/demo-truth.ts';

/**
 * Root mean square miss of a ratio's true profile from the demo reference's, in points of 100; nobody who searches
 * knows it.
 * @param shares in the order of the demo's components @param dose millilitres of concentrate per litre of drink
 */
export function trueDistance(shares: readonly number[], dose: number): number {
  const own = trueScores(shares, dose);
  const misses = referenceScores().map((score, k) => own[k]! - score);
  return Math.sqrt(misses.reduce((sum, miss) => sum + miss * miss, 0) / misses.length);
}
