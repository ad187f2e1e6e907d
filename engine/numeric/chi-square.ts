import { requirePositive, requireProbability } from './guard.ts';
import { gammaShare, gammaShareInverse } from './special.ts';

/** P(X > x) for chi-square with `df` degrees of freedom: Q(df/2, x/2). */
export function chiSquareUpper(x: number, df: number): number {
  requirePositive('df', df);
  return x <= 0 ? 1 : gammaShare(x / 2, df / 2, true);
}

/** x with P(X ≤ x) = p. */
export function chiSquareQuantile(p: number, df: number): number {
  requireProbability('p', p);
  requirePositive('df', df);
  return 2 * gammaShareInverse(p, df / 2, false);
}
