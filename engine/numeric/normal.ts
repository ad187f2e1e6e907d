import { requireFinite, requireProbability } from './guard.ts';
import { erfcInverse, erfcOf } from './special.ts';

const ROOT_TWO = Math.SQRT2;

/** Density of the standard normal at x. */
export function normalDensity(x: number): number {
  return Math.exp(-0.5 * x * x) / Math.sqrt(2 * Math.PI);
}

/** P(Z ≤ x) for a standard normal Z: ½ erfc(-x/√2). */
export function normalCdf(x: number): number {
  if (Number.isNaN(x)) requireFinite('x', x);
  return 0.5 * erfcOf(-x / ROOT_TWO);
}

/** P(Z > x): ½ erfc(x/√2), accurate far into the tail. */
export function normalUpper(x: number): number {
  return normalCdf(-x);
}

/** x with P(Z ≤ x) = p; ±∞ at 0 and 1. */
export function normalQuantile(p: number): number {
  requireProbability('p', p);
  return -ROOT_TWO * erfcInverse(2 * p);
}
