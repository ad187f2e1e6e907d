import { leastSquares } from '../numeric/least-squares.ts';
import type { Serving } from '../panel/observations.ts';
import type { Tasted } from './tasted.ts';

/** The ratios account for this much of the ages' scatter, or more: worth a word (common practice, no published source). */
const FOLLOWS = 0.5;

/**
 * Where each mix was tasted at one age only, whether the ages follow the ratios: the share of their squares about the
 * mean that a linear blend of the shares accounts for, adjusted for its degrees of freedom. If they do, what looks like
 * an effect of the ratios may be one of age.
 *
 * @returns a warning, or null where age is counted or alike, does not follow, or too few mixes tell
 */
export function ageFollows({ age, mixes }: Tasted, servings: readonly Serving[]): string | null {
  if (age !== 'each-mix-once') return null;
  const hours = new Map(servings.map((serving) => [serving.mix, serving.hours]));
  const y = mixes.map(({ mix }) => Math.log2(Math.max(1, hours.get(mix) ?? 1)));
  const p = mixes[0]!.shares.length;
  const spare = y.length - p;
  if (spare < 2) return null;
  const fit = leastSquares(Float64Array.from(mixes.flatMap(({ shares }) => [...shares])), y, p);
  const middle = y.reduce((sum, value) => sum + value, 0) / y.length;
  const total = y.reduce((sum, value) => sum + (value - middle) ** 2, 0) / (y.length - 1);
  const share = 1 - fit.residualSumOfSquares / (y.length - fit.rank) / total;
  if (share < FOLLOWS) return null;
  return (
    `the bottles' ages follow the ratios (R² adjusted ${share.toFixed(2)}): what looks like an effect of a ratio may ` +
    'be one of age; pour some of these mixes again at another age'
  );
}
