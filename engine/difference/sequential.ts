import { EngineError } from '../errors.ts';
import { requireMethod, requireShare } from './check-input.ts';
import { type Effect, sizeOf } from './effect.ts';
import { type DifferenceMethod, factsOf } from './methods.ts';
import { dPrimeWords, percent } from './words.ts';

export interface SequentialPlan {
  /** Chance of a correct answer by guessing, and at the difference looked for. */
  chance: number;
  share: number;
  dPrime: number;
  alpha: number;
  beta: number;
  /** After n answers: a difference from `upperIntercept + slope n` correct on, none of that size up to the lower. */
  slope: number;
  upperIntercept: number;
  lowerIntercept: number;
}

export type SequentialDecision = 'difference' | 'none of that size' | 'go on';

/**
 * Lines of Wald's (1947, Sequential Analysis) sequential probability ratio test, as ISO 16820 applies it: with
 * k = ln[p₁(1-p₀) / (p₀(1-p₁))], slope ln[(1-p₀)/(1-p₁)] / k, intercepts ln[(1-β)/α] / k and -ln[(1-α)/β] / k.
 *
 * @param options the difference looked for; alpha and beta default 0.05
 */
export function planSequential(
  method: DifferenceMethod,
  { alpha = 0.05, beta = 0.05, ...effect }: Effect & { alpha?: number; beta?: number },
): SequentialPlan {
  requireMethod(method);
  requireShare('alpha', alpha);
  requireShare('beta', beta);
  if (alpha + beta >= 1) throw new EngineError('bad-argument', 'alpha, beta', [alpha, beta], 'a sum below 1');
  const { chance } = factsOf(method);
  const { share, dPrime } = sizeOf(method, effect);
  if (share >= 1) throw new EngineError('bad-argument', 'dPrime', dPrime, 'a difference that may be missed');
  const scale = Math.log((share * (1 - chance)) / (chance * (1 - share)));
  return {
    chance,
    share,
    dPrime,
    alpha,
    beta,
    slope: Math.log((1 - chance) / (1 - share)) / scale,
    upperIntercept: Math.log((1 - beta) / alpha) / scale,
    lowerIntercept: -Math.log((1 - alpha) / beta) / scale,
  };
}

export interface SequentialWalk {
  decision: SequentialDecision;
  steps: { trials: number; correct: number; upper: number; lower: number; decision: SequentialDecision }[];
  says: string;
}

/** Follows answers one by one, up to the first decision; answers after it are not read. */
export function walkSequential(plan: SequentialPlan, answers: readonly boolean[]): SequentialWalk {
  const steps: SequentialWalk['steps'] = [];
  let correct = 0;
  for (const [i, answer] of answers.entries()) {
    correct += answer ? 1 : 0;
    const trials = i + 1;
    const upper = plan.upperIntercept + plan.slope * trials;
    const lower = plan.lowerIntercept + plan.slope * trials;
    const decision = decide(correct, upper, lower);
    steps.push({ trials, correct, upper, lower, decision });
    if (decision !== 'go on') break;
  }
  const last = steps.at(-1);
  const decision = last?.decision ?? 'go on';
  return { decision, steps, says: sentence(plan, decision, last) };
}

function decide(correct: number, upper: number, lower: number): SequentialDecision {
  if (correct >= upper) return 'difference';
  return correct <= lower ? 'none of that size' : 'go on';
}

function sentence(
  { dPrime, alpha, beta }: SequentialPlan,
  decision: SequentialDecision,
  last: SequentialWalk['steps'][number] | undefined,
): string {
  if (!last) return 'Nothing has been tasted yet.';
  const score = `${last.correct} of ${last.trials} correct`;
  if (decision === 'difference')
    return `${score}: stop, people can tell the two apart (wrong at most about ${percent(alpha)} of the time). How large the difference is this does not say well, as it stopped on a run of luck.`;
  if (decision === 'none of that size')
    return `${score}: stop, a difference of ${dPrimeWords(dPrime)} or more is not there (wrong at most about ${percent(beta)} of the time). A smaller one may be.`;
  return `${score}: go on tasting; nothing may be claimed yet, however the score looks.`;
}

export interface SequentialOutlook {
  /** Chance of each end. */
  difference: number;
  none: number;
  undecided: number;
  expectedTrials: number;
}

/**
 * What a plan does if the chance of a correct answer is `share`, by exact recursion over all paths, tasting at most
 * `most` times.
 */
export function sequentialOutlook(plan: SequentialPlan, share: number, most: number): SequentialOutlook {
  let open = new Map([[0, 1]]);
  const ends = { difference: 0, none: 0, undecided: 0, expectedTrials: 0 };
  for (let trials = 1; trials <= most && open.size > 0; trials++) {
    const upper = plan.upperIntercept + plan.slope * trials;
    const lower = plan.lowerIntercept + plan.slope * trials;
    const next = new Map<number, number>();
    for (const [correct, weight] of open) {
      ends.expectedTrials += weight;
      for (const [to, part] of [
        [correct + 1, weight * share],
        [correct, weight * (1 - share)],
      ] as const) {
        const decision = decide(to, upper, lower);
        if (decision === 'difference') ends.difference += part;
        else if (decision === 'none of that size') ends.none += part;
        else next.set(to, (next.get(to) ?? 0) + part);
      }
    }
    open = next;
  }
  for (const weight of open.values()) ends.undecided += weight;
  return ends;
}
