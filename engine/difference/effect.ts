import { EngineError } from '../errors.ts';
import { requireAboveZero, requireShare } from './check-input.ts';
import type { DifferenceMethod } from './methods.ts';
import { chanceCorrect, dPrimeAt, proportionAbove, shareAt } from './psychometric.ts';

/** How large a difference is, in either of the two ways: exactly one of them is given. */
export interface Effect {
  /** Distance of the two samples in standard deviations of one perception. */
  dPrime?: number | undefined;
  /** Proportion of tasters that can tell, the others guessing. */
  proportionAbove?: number | undefined;
}

export interface SizedEffect {
  dPrime: number;
  proportionAbove: number;
  /** The chance of a correct answer. */
  share: number;
}

/** The effect in both ways with its chance of a correct answer. */
export function sizeOf(method: DifferenceMethod, effect: Effect): SizedEffect {
  if ((effect.dPrime === undefined) === (effect.proportionAbove === undefined))
    throw new EngineError('bad-argument', 'effect', effect, 'either dPrime or proportionAbove');
  if (effect.dPrime !== undefined) {
    requireAboveZero('dPrime', effect.dPrime);
    const share = chanceCorrect(method, effect.dPrime);
    return { dPrime: effect.dPrime, proportionAbove: proportionAbove(method, share), share };
  }
  const above = effect.proportionAbove!;
  requireShare('proportionAbove', above);
  const share = shareAt(method, above);
  return { dPrime: dPrimeAt(method, share)!, proportionAbove: above, share };
}
