import cdf from '@stdlib/stats-base-dists-studentized-range-cdf';
import quantile from '@stdlib/stats-base-dists-studentized-range-quantile';
import { requireCount, requireProbability } from './guard.ts';

/** Beyond this the distribution no longer moves in the eighth digit and is read as for infinite degrees. */
const MANY = 1e5;

/**
 * P(Q > q) for the studentized range of `k` means with `df` ≥ 2 real degrees of freedom. Absolute error below 1e-7
 * from three degrees of freedom on; with two it is good to about four digits, as in the usual tables.
 */
export function studentizedRangeUpper(q: number, k: number, df: number): number {
  requireCount('k', k, 2);
  if (q <= 0) return 1;
  return Math.min(1, Math.max(0, 1 - cdf(q, k, Math.min(df, MANY))));
}

/** q with P(Q ≤ q) = p. */
export function studentizedRangeQuantile(p: number, k: number, df: number): number {
  requireProbability('p', p);
  requireCount('k', k, 2);
  return quantile(p, k, Math.min(df, MANY));
}
