import { binomialUpper } from '../numeric/binomial.ts';
import { requireCount } from '../numeric/guard.ts';
import { findRoot } from '../numeric/root.ts';
import { requireMethod, requirePower } from './check-input.ts';
import { fewestCorrect } from './critical.ts';
import { type DifferenceMethod, factsOf } from './methods.ts';
import type { PlanOptions } from './plan-difference.ts';
import { dPrimeAt, proportionAbove } from './psychometric.ts';
import { dPrimeWords, METHOD_WORDS, percent } from './words.ts';

export interface Detectable {
  /** Smallest difference that so many tasters show with the power asked for; null where none is large enough. */
  dPrime: number | null;
  proportionAbove: number | null;
  needed: number | null;
  says: string;
}

/** The reverse of planning: what a given number of tasters can show. */
export function smallestDetectable(
  method: DifferenceMethod,
  trials: number,
  { power = 0.8, alpha = 0.05 }: PlanOptions = {},
): Detectable {
  requireMethod(method);
  requireCount('trials', trials, 1);
  requirePower(power, alpha);
  const { chance } = factsOf(method);
  const needed = fewestCorrect(trials, chance, alpha);
  if (needed === null) {
    const says = `${trials} tasters cannot show any difference by a ${METHOD_WORDS[method]} at ${alpha}: even all correct happens too often by guessing.`;
    return { dPrime: null, proportionAbove: null, needed, says };
  }
  const share = findRoot((pc) => binomialUpper(needed, trials, pc) - power, chance, 1).x;
  const [dPrime, above] = [dPrimeAt(method, share), proportionAbove(method, share)];
  const says = `${trials} tasters show a difference by a ${METHOD_WORDS[method]} ${percent(power)} of the time only if at least ${percent(above)} can tell (${dPrimeWords(dPrime!)}); smaller ones will mostly be missed, which does not mean that they are not there.`;
  return { dPrime, proportionAbove: above, needed, says };
}
