import { EngineError } from '../errors.ts';
import { betaQuantile, binomialCdf, binomialUpper } from '../numeric/binomial.ts';
import { requireAnswers, requireMethod, requirePower, requireShare } from './check-input.ts';
import { fewestCorrect } from './critical.ts';
import { type Effect, sizeOf } from './effect.ts';
import { chernoffTrials, planExactly } from './exact-plan.ts';
import { type DifferenceMethod, factsOf } from './methods.ts';
import { proportionAbove } from './psychometric.ts';
import { METHOD_WORDS, percent, pWords } from './words.ts';

export interface SimilarityReading {
  /** True where at most `most` were correct. */
  similar: boolean;
  /** Chance of so few correct answers if the limit were just reached. */
  p: number;
  /** One-sided upper limit of the proportion that can tell, at 1 - alpha. */
  upper: number;
  /** Most correct answers that still show similarity; null where no number does. */
  most: number | null;
  says: string;
}

export interface SimilarityOptions {
  /** Chance of calling a pair at the limit similar; default 0.05. */
  alpha?: number;
}

/**
 * Is the difference smaller than a limit agreed beforehand? The pair is called similar where so few correct answers
 * would be rare (at most `alpha`) at the limit: the one-sided exact test that mirrors the difference test (the
 * similarity tables of ISO 4120 and ISO 10399). A failed difference test is never taken for this.
 *
 * @param limit the smallest difference that would matter
 */
export function readSimilarity(
  method: DifferenceMethod,
  trials: number,
  correct: number,
  { alpha = 0.05, ...limit }: Effect & SimilarityOptions,
): SimilarityReading {
  requireMethod(method);
  requireAnswers(trials, correct);
  requireShare('alpha', alpha);
  const { share, proportionAbove: above } = sizeOf(method, limit);
  const high = correct === trials ? 1 : betaQuantile(1 - alpha, correct + 1, trials - correct);
  const most = mostCorrect(trials, share, alpha);
  const reading = {
    similar: most !== null && correct <= most,
    p: binomialCdf(correct, trials, share),
    upper: proportionAbove(method, high),
    most,
  };
  const score = `${correct} of ${trials} correct in the ${METHOD_WORDS[method]}`;
  return { ...reading, says: `${score}${verdict(reading, above)}` };
}

function verdict({ similar, p, upper, most }: Omit<SimilarityReading, 'says'>, limit: number): string {
  if (most === null)
    return `: with so few answers no result can show that fewer than ${percent(limit)} can tell; nothing may be claimed.`;
  if (similar)
    return ` (${pWords(p)}): fewer than ${percent(limit)} of such tasters can tell the two apart, at most ${percent(upper)}. They are close enough by the limit set beforehand, which does not make them the same.`;
  return `, where at most ${most} would do (${pWords(p)}): it is not shown that fewer than ${percent(limit)} can tell; up to ${percent(upper)} may. This does not show a difference either.`;
}

export interface SimilarityPlan {
  trials: number | null;
  firstTrials: number | null;
  /** Most correct answers that still show similarity, at `trials`. */
  most: number | null;
  power: number | null;
  says: string;
}

/**
 * How many tasters it takes to show that a difference is smaller than a limit, if the truth is `truly` (a proportion
 * that can tell, default 0: nobody).
 */
export function planSimilarity(
  method: DifferenceMethod,
  {
    alpha = 0.05,
    power = 0.8,
    truly = 0,
    ...limit
  }: Effect & SimilarityOptions & { power?: number; truly?: number },
): SimilarityPlan {
  requireMethod(method);
  requirePower(power, alpha);
  const { share, proportionAbove: above } = sizeOf(method, limit);
  if (!(truly >= 0 && truly < above))
    throw new EngineError('bad-argument', 'truly', truly, `0 to below the limit, ${above}`);
  const { chance } = factsOf(method);
  const wrong = 1 - chance - (1 - chance) * truly;
  const plan = planExactly(
    {
      chance: 1 - share,
      alpha,
      powerAt: (needed, trials) => binomialUpper(needed, trials, wrong),
      surelyBy: chernoffTrials(1 - share, wrong, alpha, power),
    },
    power,
  );
  if (!plan) {
    const says = `No workable number of tasters can show that fewer than ${percent(above)} can tell.`;
    return { trials: null, firstTrials: null, most: null, power: null, says };
  }
  const most = plan.trials - plan.needed;
  return {
    trials: plan.trials,
    firstTrials: plan.firstTrials,
    most,
    power: plan.power,
    says: `If ${truly === 0 ? 'nobody' : `only ${percent(truly)}`} can tell, ${plan.trials} tasters show that fewer than ${percent(above)} can, ${percent(power)} of the time: at most ${most} may be correct.`,
  };
}

/** Most correct answers that are still rare at the limit: at least so many wrong ones, counted as successes. */
function mostCorrect(trials: number, share: number, alpha: number): number | null {
  const wrong = fewestCorrect(trials, 1 - share, alpha);
  return wrong === null ? null : trials - wrong;
}
