import { requireCount, requireProbability } from './guard.ts';
import { betaShare, betaShareInverse, logGamma } from './special.ts';

/** P(X ≥ k) for X binomial(n, p): I_p(k, n-k+1). */
export function binomialUpper(k: number, n: number, p: number): number {
  check(k, n, p);
  if (k <= 0) return 1;
  return k > n ? 0 : betaShare(p, k, n - k + 1, false);
}

/** P(X ≤ k): the upper tail of the same beta distribution. */
export function binomialCdf(k: number, n: number, p: number): number {
  check(k, n, p);
  if (k < 0) return 0;
  return k >= n ? 1 : betaShare(p, k + 1, n - k, true);
}

/** P(X = k), through logarithms. */
export function binomialMass(k: number, n: number, p: number): number {
  check(k, n, p);
  if (k < 0 || k > n) return 0;
  if (p === 0 || p === 1) return k === n * p ? 1 : 0;
  const ways = logGamma(n + 1) - logGamma(k + 1) - logGamma(n - k + 1);
  return Math.exp(ways + k * Math.log(p) + (n - k) * Math.log1p(-p));
}

/** I_x(a, b). */
export function betaCdf(x: number, a: number, b: number): number {
  return x <= 0 ? 0 : x >= 1 ? 1 : betaShare(x, a, b, false);
}

/** x with I_x(a, b) = p. */
export function betaQuantile(p: number, a: number, b: number): number {
  requireProbability('p', p);
  return betaShareInverse(p, a, b, false);
}

function check(k: number, n: number, p: number): void {
  requireCount('n', n);
  requireCount('k', k, -1);
  requireProbability('p', p);
}
