import { requireFinite, requirePositive, requireProbability } from './guard.ts';
import { normalCdf, normalQuantile } from './normal.ts';
import { betaShare, betaShareInverse } from './special.ts';

/**
 * P(|T| > |t|) for Student's t with `df` degrees of freedom (real, infinity allowed): the upper tail of the beta
 * distribution (½, df/2) at t²/(df + t²).
 */
export function studentTwoSided(t: number, df: number): number {
  requirePositive('df', df);
  if (Number.isNaN(t)) requireFinite('t', t);
  const square = t * t;
  if (df === Infinity) return 2 * normalCdf(-Math.abs(t));
  if (square === Infinity) return 0;
  return square > df
    ? betaShare(df / (df + square), df / 2, 0.5, false)
    : betaShare(square / (df + square), 0.5, df / 2, true);
}

/** P(T > t). */
export function studentUpper(t: number, df: number): number {
  const tail = studentTwoSided(t, df) / 2;
  return t >= 0 ? tail : 1 - tail;
}

/** t with P(T ≤ t) = p, through the inverse of the beta distribution. */
export function studentQuantile(p: number, df: number): number {
  requireProbability('p', p);
  requirePositive('df', df);
  if (df === Infinity) return normalQuantile(p);
  if (p === 0.5) return 0;
  if (p === 0 || p === 1) return p === 0 ? -Infinity : Infinity;
  const tail = 2 * Math.min(p, 1 - p);
  const x = betaShareInverse(tail, 0.5, df / 2, true);
  const t = Math.sqrt((df * x) / betaComplement(tail, df, x));
  return p < 0.5 ? -t : t;
}

/** 1 - x where x is close to one, taken from the mirrored inverse so that no digits are lost. */
function betaComplement(tail: number, df: number, x: number): number {
  return x < 0.5 ? 1 - x : betaShareInverse(tail, df / 2, 0.5, false);
}
