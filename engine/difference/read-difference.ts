import { binomialCdf, binomialUpper } from '../numeric/binomial.ts';
import { requireAnswers, requireMethod, requireShare } from './check-input.ts';
import { exactInterval, fewestCorrect } from './critical.ts';
import { type DPrimeReading, readDPrime } from './d-prime.ts';
import { type DifferenceMethod, factsOf } from './methods.ts';
import { proportionAbove } from './psychometric.ts';
import { METHOD_WORDS, percent, pWords } from './words.ts';

export interface DifferenceReading extends DPrimeReading {
  /** Chance of at least as many correct answers by guessing. */
  p: number;
  /** Proportion that can tell, the rest guessing; clipped to 0 … 1. */
  proportionAbove: number;
  /** Exact two-sided 95 % interval of it, clipped too. */
  interval: [number, number];
  /** Fewest correct answers that show a difference at `alpha`; null where no number does. */
  needed: number | null;
  /** What may and what may not be claimed. */
  says: string;
}

/**
 * Reads a difference test in which each of `trials` answers comes from another taster (for several answers a taster
 * see `readReplicated`). p is exact binomial (the construction behind the tables of ISO 4120, ISO 10399, ISO 5495).
 *
 * @param options.alpha error rate of `needed`, default 0.05
 * @throws EngineError `bad-argument` for numbers that are not counts or do not fit each other
 */
export function readDifference(
  method: DifferenceMethod,
  trials: number,
  correct: number,
  { alpha = 0.05 }: { alpha?: number } = {},
): DifferenceReading {
  requireMethod(method);
  requireAnswers(trials, correct);
  requireShare('alpha', alpha);
  const { chance } = factsOf(method);
  const [low, high] = exactInterval(correct, trials);
  const reading = {
    p: binomialUpper(correct, trials, chance),
    proportionAbove: proportionAbove(method, correct / trials),
    interval: [proportionAbove(method, low), proportionAbove(method, high)] as [number, number],
    ...readDPrime(method, trials, correct),
    needed: fewestCorrect(trials, chance, alpha),
  };
  return { ...reading, says: sentence(method, trials, correct, reading, alpha) };
}

type Unsaid = Omit<DifferenceReading, 'says'>;

function sentence(
  method: DifferenceMethod,
  trials: number,
  correct: number,
  { p, interval, needed }: Unsaid,
  alpha: number,
): string {
  const { chance } = factsOf(method);
  const score = `${correct} of ${trials} correct in the ${METHOD_WORDS[method]}`;
  const many =
    interval[0] < 0.005
      ? `Up to ${percent(interval[1])}`
      : `Between ${percent(interval[0])} and ${percent(interval[1])}`;
  if (needed === null)
    return `${score}: with so few answers not even all correct would show a difference at ${alpha}; nothing may be claimed, least of all that the two are the same.`;
  if (correct >= needed)
    return `${score}, where ${needed} are needed (${pWords(p)}): people can tell the two apart. ${many} of such tasters can; whether they like the change is another question.`;
  if (binomialCdf(correct, trials, chance) < 0.025)
    return `${score}, fewer than guessing gives: look for swapped codes or a misread instruction before claiming anything. Neither a difference nor sameness is shown.`;
  return `${score}, where ${needed} are needed (${pWords(p)}): a difference is not shown. That does not show that the two are the same: up to ${percent(interval[1])} of such tasters may be able to tell.`;
}
