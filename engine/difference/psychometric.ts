import { requireFinite } from '../numeric/guard.ts';
import { integrate } from '../numeric/quadrature.ts';
import { findRoot } from '../numeric/root.ts';
import { type DifferenceMethod, factsOf } from './methods.ts';

/** Beyond this d′ every method is answered right to the last digit. */
const FARTHEST = 24;

/** The chance of a correct answer at a d′ ≥ 0: guessing plus the integral of its derivative, by quadrature. */
export function chanceCorrect(method: DifferenceMethod, dPrime: number): number {
  const { chance, slope } = factsOf(method);
  return chance + integral(slope, 0, dPrime);
}

/** One minus the chance of a correct answer, with its digits also where hardly anybody errs. */
export function chanceWrong(method: DifferenceMethod, dPrime: number): number {
  return integral(factsOf(method).slope, dPrime, FARTHEST);
}

/** The d′ ≥ 0 at which a share of the answers is correct: 0 at or below guessing, null at 1. */
export function dPrimeAt(method: DifferenceMethod, share: number): number | null {
  requireFinite('share', share);
  if (share <= factsOf(method).chance) return 0;
  if (share >= 1) return null;
  const wrong = 1 - share;
  return findRoot((d) => wrong - chanceWrong(method, d), 0, FARTHEST, 1e-14).x;
}

/** The proportion that can tell, as the guessing model has it: (pc - chance) / (1 - chance), clipped to 0 … 1. */
export function proportionAbove(method: DifferenceMethod, share: number): number {
  const { chance } = factsOf(method);
  return Math.min(1, Math.max(0, (share - chance) / (1 - chance)));
}

/** The chance of a correct answer where a proportion can tell and the rest guess. */
export function shareAt(method: DifferenceMethod, above: number): number {
  const { chance } = factsOf(method);
  return chance + (1 - chance) * above;
}

function integral(slope: (d: number) => number, from: number, to: number): number {
  if (to <= from) return 0;
  return integrate(slope, from, Math.min(to, FARTHEST), { tolerance: 1e-14 }).value;
}
