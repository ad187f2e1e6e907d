import type { RepeatedAnswers } from '../../engine/difference/beta-binomial.ts';
import { smallestDetectable } from '../../engine/difference/detectable.ts';
import type { DifferenceMethod } from '../../engine/difference/methods.ts';
import { planDifference } from '../../engine/difference/plan-difference.ts';
import { planPreference, readPreference } from '../../engine/difference/preference.ts';
import { readDifference } from '../../engine/difference/read-difference.ts';
import { readReplicated } from '../../engine/difference/read-replicated.ts';
import { planSequential, walkSequential } from '../../engine/difference/sequential.ts';
import { planSimilarity, readSimilarity } from '../../engine/difference/similarity.ts';
import { VERSION } from './version.ts';

/** A difference worth finding: in standard deviations of a perception, or as the share that can tell. */
export type AskedEffect = { dPrime: number } | { proportionAbove: number };

interface Rates {
  power: number;
  alpha: number;
}

function documentOf<T extends object>(asked: object, found: T) {
  return { ...asked, ...found, warnings: [] as string[], version: VERSION };
}

export interface DifferenceRequest {
  method: DifferenceMethod;
  trials: number;
  correct: number;
  /** Share that can tell below which the two are close enough, agreed beforehand. */
  closeEnough?: number | undefined;
}

/** Can tasters tell two samples apart, and where a limit was set, are they close enough. */
export function differenceOperation({ method, trials, correct, closeEnough }: DifferenceRequest) {
  const similarity =
    closeEnough === undefined
      ? {}
      : {
          similarity: {
            closeEnough,
            ...readSimilarity(method, trials, correct, { proportionAbove: closeEnough }),
          },
        };
  return documentOf(
    { method, trials, correct },
    { ...readDifference(method, trials, correct), ...similarity },
  );
}

/** The same where each taster answered several times. */
export function repeatedOperation(method: DifferenceMethod, each: readonly RepeatedAnswers[]) {
  return documentOf({ method, each }, readReplicated(method, each));
}

/** Answers one by one, stopping as soon as they tell. */
export function oneByOneOperation(
  method: DifferenceMethod,
  answers: readonly boolean[],
  rates: AskedEffect & { alpha?: number; beta?: number },
) {
  const plan = planSequential(method, rates);
  return documentOf({ method }, { plan, ...walkSequential(plan, answers) });
}

/** Which of two is preferred. */
export function preferenceOperation(counts: { first: number; second: number; neither: number }) {
  const { first, second, neither } = counts;
  return documentOf({ method: 'preference', ...counts }, readPreference(first, second, neither));
}

/** How many tastings it takes to show a difference. */
export function differencePlanOperation({
  method,
  power,
  alpha,
  ...effect
}: AskedEffect & Rates & { method: DifferenceMethod }) {
  return documentOf(
    { method, ...effect, asked: { power, alpha } },
    planDifference(method, { ...effect, power, alpha }),
  );
}

/** What so many tasters can show. */
export function detectableOperation({
  method,
  tasters,
  ...rates
}: Rates & { method: DifferenceMethod; tasters: number }) {
  return documentOf({ method, tasters, asked: rates }, smallestDetectable(method, tasters, rates));
}

/** How many tastings it takes to show that two are close enough. */
export function similarityPlanOperation({
  method,
  closeEnough,
  ...rates
}: Rates & { method: DifferenceMethod; closeEnough: number }) {
  const plan = planSimilarity(method, { proportionAbove: closeEnough, ...rates });
  return documentOf({ method, closeEnough, asked: rates }, plan);
}

/** How many tasters it takes to show a preference. */
export function preferencePlanOperation({ share, ...rates }: Rates & { share: number }) {
  const plan = planPreference(share, rates);
  const says = plan
    ? `${plan.trials} tasters with a preference show that ${Math.round(100 * share)} % prefer one, ${Math.round(100 * rates.power)} % of the time; ${plan.firstTrials} do so first, but not every number between.`
    : 'No workable number of tasters shows so small a preference.';
  const figures = plan ?? { trials: null, firstTrials: null, needed: null, power: null };
  return documentOf({ method: 'preference', share, asked: rates }, { ...figures, says });
}
