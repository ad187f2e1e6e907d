import { chiSquareQuantile, chiSquareUpper } from './chi-square.ts';
import { requirePositive, requireProbability } from './guard.ts';
import { betaShare, betaShareInverse } from './special.ts';

/**
 * P(F > f) for Fisher's F with real degrees of freedom; `denDf` may be infinite. The beta distribution is asked
 * on whichever side keeps its argument away from one.
 */
export function fisherUpper(f: number, numDf: number, denDf: number): number {
  requirePositive('numDf', numDf);
  requirePositive('denDf', denDf);
  if (f <= 0) return 1;
  if (f === Infinity) return 0;
  if (denDf === Infinity) return chiSquareUpper(f * numDf, numDf);
  const part = numDf * f;
  return part > denDf
    ? betaShare(denDf / (denDf + part), denDf / 2, numDf / 2, false)
    : betaShare(part / (denDf + part), numDf / 2, denDf / 2, true);
}

/** f with P(F ≤ f) = p. */
export function fisherQuantile(p: number, numDf: number, denDf: number): number {
  requireProbability('p', p);
  requirePositive('numDf', numDf);
  requirePositive('denDf', denDf);
  if (denDf === Infinity) return chiSquareQuantile(p, numDf) / numDf;
  if (p === 0 || p === 1) return p === 0 ? 0 : Infinity;
  const x = betaShareInverse(p, numDf / 2, denDf / 2, false);
  const rest = x < 0.5 ? 1 - x : betaShareInverse(p, denDf / 2, numDf / 2, true);
  return (denDf * x) / (numDf * rest);
}
