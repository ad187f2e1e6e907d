import { EngineError } from '../errors.ts';
import { binomialUpper } from '../numeric/binomial.ts';
import { chiSquareUpper } from '../numeric/chi-square.ts';
import { normalUpper } from '../numeric/normal.ts';
import { type BetaBinomialFit, fitBetaBinomial, type RepeatedAnswers } from './beta-binomial.ts';
import { requireAnswers, requireMethod, requireShare } from './check-input.ts';
import { fewestCorrect } from './critical.ts';
import { type DifferenceMethod, factsOf } from './methods.ts';
import { dPrimeAt, proportionAbove } from './psychometric.ts';
import { METHOD_WORDS, percent, pWords } from './words.ts';

export interface ReplicatedReading {
  trials: number;
  correct: number;
  /** Exact binomial over all answers: right, since all guess alike and independently where nobody can tell. */
  p: number;
  needed: number | null;
  /** Do assessors differ more than independent answers would? Null where all answers or none are correct. */
  heterogeneity: { chiSquare: number; df: number; p: number; taroneZ: number; taroneP: number } | null;
  fit: BetaBinomialFit;
  /** Mean proportion that can tell and its 95 % interval by the beta-binomial likelihood. */
  proportionAbove: number;
  interval: [number, number];
  dPrime: number | null;
  says: string;
}

/**
 * Reads a difference test in which assessors answered more than once. Forty-eight answers of twelve people are not
 * forty-eight people: the test that nobody can tell stands as it is (Kunert and Meyners 1999, Food Qual. Pref. 10,
 * 477-482), but how many can, and how surely, is read from the beta-binomial distribution.
 *
 * @param answers one entry an assessor, at least two assessors
 */
export function readReplicated(
  method: DifferenceMethod,
  answers: readonly RepeatedAnswers[],
  { alpha = 0.05 }: { alpha?: number } = {},
): ReplicatedReading {
  requireMethod(method);
  requireShare('alpha', alpha);
  if (answers.length < 2)
    throw new EngineError('bad-argument', 'answers', answers.length, 'at least two assessors');
  for (const a of answers) requireAnswers(a.trials, a.correct);
  const trials = answers.reduce((sum, a) => sum + a.trials, 0);
  const correct = answers.reduce((sum, a) => sum + a.correct, 0);
  const { chance } = factsOf(method);
  const fit = fitBetaBinomial(answers);
  const reading = {
    trials,
    correct,
    p: binomialUpper(correct, trials, chance),
    needed: fewestCorrect(trials, chance, alpha),
    heterogeneity: heterogeneity(answers, correct / trials),
    fit,
    proportionAbove: proportionAbove(method, fit.mean),
    interval: fit.interval.map((share) => proportionAbove(method, share)) as [number, number],
    dPrime: dPrimeAt(method, fit.mean),
  };
  return { ...reading, says: sentence(method, answers.length, reading) };
}

/** Pearson's chi-square between assessors and Tarone's (1979, Biometrika 66, 585-590) one-sided Z. */
function heterogeneity(
  answers: readonly RepeatedAnswers[],
  share: number,
): ReplicatedReading['heterogeneity'] {
  if (share === 0 || share === 1) return null;
  const spread = share * (1 - share);
  const sum = (f: (a: RepeatedAnswers) => number) => answers.reduce((total, a) => total + f(a), 0);
  const chiSquare = sum((a) => (a.correct - a.trials * share) ** 2 / (a.trials * spread));
  const squares = sum((a) => (a.correct - a.trials * share) ** 2) / spread;
  const pairs = 2 * sum((a) => a.trials * (a.trials - 1));
  const taroneZ = pairs === 0 ? 0 : (squares - sum((a) => a.trials)) / Math.sqrt(pairs);
  const df = answers.length - 1;
  return { chiSquare, df, p: chiSquareUpper(chiSquare, df), taroneZ, taroneP: normalUpper(taroneZ) };
}

function sentence(
  method: DifferenceMethod,
  people: number,
  { trials, correct, p, needed, heterogeneity: h, interval }: Omit<ReplicatedReading, 'says'>,
): string {
  const score = `${correct} of ${trials} answers of ${people} assessors correct in the ${METHOD_WORDS[method]} (${pWords(p)})`;
  const range =
    interval[0] < 0.005
      ? `up to ${percent(interval[1])}`
      : `${percent(interval[0])} to ${percent(interval[1])}`;
  const differ =
    h && h.taroneP < 0.05
      ? ' Assessors differ in how well they can tell, so that the answers count for fewer people than they look.'
      : '';
  if (needed === null) return `${score}: too few answers to show anything; nothing may be claimed.`;
  if (correct >= needed)
    return `${score}: some of these people can tell the two apart, on average ${range} of the time. Others than these few may differ.${differ}`;
  return `${score}: a difference is not shown. That does not show that the two are the same: they may tell them apart up to ${percent(interval[1])} of the time.${differ}`;
}
