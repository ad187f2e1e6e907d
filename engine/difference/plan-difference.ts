import { binomialUpper } from '../numeric/binomial.ts';
import { requireMethod, requirePower } from './check-input.ts';
import { type Effect, sizeOf } from './effect.ts';
import { chernoffTrials, type ExactPlan, planExactly } from './exact-plan.ts';
import { type DifferenceMethod, factsOf } from './methods.ts';
import { dPrimeWords, METHOD_WORDS, percent } from './words.ts';

export interface PlanOptions {
  /** Chance of showing the difference if it is there; default 0.8. */
  power?: number;
  /** Chance of showing one where there is none; default 0.05. */
  alpha?: number;
}

/** All null where more than 200,000 trials may be needed. */
export type DifferencePlan = { [K in keyof ExactPlan]: number | null } & { says: string };

/**
 * How many tasters a difference test needs to show a difference of a given size, by exact power: `trials` is the
 * number from which every larger one holds the power, `firstTrials` the first that reaches it.
 *
 * @throws EngineError `bad-argument` for an effect that is not above 0, or a power that is not above alpha
 */
export function planDifference(
  method: DifferenceMethod,
  { power = 0.8, alpha = 0.05, ...effect }: Effect & PlanOptions,
): DifferencePlan {
  requireMethod(method);
  requirePower(power, alpha);
  const { chance } = factsOf(method);
  const { share, dPrime, proportionAbove } = sizeOf(method, effect);
  const plan = planExactly(
    {
      chance,
      alpha,
      powerAt: (needed, trials) => binomialUpper(needed, trials, share),
      surelyBy: chernoffTrials(chance, share, alpha, power),
    },
    power,
  );
  const size = `${dPrimeWords(dPrime)} (${percent(proportionAbove)} can tell)`;
  if (!plan) {
    const says = `A difference of ${size} is too small to be shown by a ${METHOD_WORDS[method]} of any workable size.`;
    return { trials: null, firstTrials: null, needed: null, power: null, says };
  }
  return {
    ...plan,
    says: `From ${plan.trials} tasters on a ${METHOD_WORDS[method]} shows a difference of ${size} at least ${percent(power)} of the time; with ${plan.trials}, ${plan.needed} must be correct.`,
  };
}
