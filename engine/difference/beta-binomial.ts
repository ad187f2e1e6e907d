import { chiSquareQuantile } from '../numeric/chi-square.ts';
import { minimiseWithin } from '../numeric/quasi-newton.ts';
import { findRoot } from '../numeric/root.ts';
import { logGamma } from '../numeric/special.ts';

/** How many of an assessor's repeated answers were correct. */
export interface RepeatedAnswers {
  trials: number;
  correct: number;
}

export interface BetaBinomialFit {
  /** Mean chance of a correct answer over assessors. */
  mean: number;
  /** Correlation of two answers of one assessor, 0 … 1; null where all answers or none are correct. */
  correlation: number | null;
  logLikelihood: number;
  /** The same with correlation 0. */
  independentLogLikelihood: number;
  /** Likelihood-ratio 95 % interval of the mean. */
  interval: [number, number];
}

/** Bounds that keep every logarithm finite. */
const NEAR_ZERO = 1e-9;
const STARTS = [0.02, 0.2, 0.6];

/**
 * Beta-binomial fit of repeated answers by maximum likelihood (Ennis and Bi 1998, J. Sensory Studies 13, 389-412):
 * an assessor's chance is drawn from a beta distribution of mean μ, so that two answers correlate by ρ.
 * With a = 1 - ρ the chance of x of n is C(n, x) Π_{r<x} (μa + rρ) Π_{r<n-x} ((1-μ)a + rρ) / Π_{r<n} (a + rρ), which
 * needs no gamma function and holds at ρ = 0 too.
 */
export function fitBetaBinomial(answers: readonly RepeatedAnswers[]): BetaBinomialFit {
  const trials = answers.reduce((sum, a) => sum + a.trials, 0);
  const correct = answers.reduce((sum, a) => sum + a.correct, 0);
  const ways = answers.reduce((sum, a) => sum + logWays(a), 0);
  const share = correct / trials;
  const independent = -cost(answers, share, 0) + ways;
  const cost0 = (mean: number) => bestCorrelation(answers, mean).value;
  if (correct === 0 || correct === trials) {
    const interval = meanInterval(cost0, share, 0);
    return { mean: share, correlation: null, logLikelihood: ways, independentLogLikelihood: ways, interval };
  }
  const fits = STARTS.map((rho) =>
    minimiseWithin(
      {
        value: ([mean, rho]) => cost(answers, mean!, rho!),
        low: [NEAR_ZERO, 0],
        high: [1 - NEAR_ZERO, 1 - NEAR_ZERO],
      },
      [share, rho],
    ),
  );
  const best = fits.reduce((a, b) => (b.value < a.value ? b : a));
  return {
    mean: best.x[0]!,
    correlation: best.x[1]!,
    logLikelihood: ways - best.value,
    independentLogLikelihood: independent,
    interval: meanInterval(cost0, best.x[0]!, best.value),
  };
}

/** Minus log-likelihood without the ways of ordering. */
function cost(answers: readonly RepeatedAnswers[], mean: number, rho: number): number {
  const rest = 1 - rho;
  let sum = 0;
  for (const { trials, correct } of answers) {
    for (let r = 0; r < correct; r++) sum -= Math.log(mean * rest + r * rho);
    for (let r = 0; r < trials - correct; r++) sum -= Math.log((1 - mean) * rest + r * rho);
    for (let r = 0; r < trials; r++) sum += Math.log(rest + r * rho);
  }
  return sum;
}

function bestCorrelation(answers: readonly RepeatedAnswers[], mean: number) {
  const fits = STARTS.map((start) =>
    minimiseWithin({ value: ([rho]) => cost(answers, mean, rho!), low: [0], high: [1 - NEAR_ZERO] }, [start]),
  );
  return fits.reduce((a, b) => (b.value < a.value ? b : a));
}

/** All means whose best cost is within half the chi-square quantile of the least. */
function meanInterval(costAt: (mean: number) => number, best: number, least: number): [number, number] {
  const allowed = chiSquareQuantile(0.95, 1) / 2;
  const over = (mean: number) => costAt(mean) - least - allowed;
  const end = (bound: number) => (over(bound) <= 0 ? bound : findRoot(over, best, bound, 1e-10).x);
  return [best <= NEAR_ZERO ? 0 : end(NEAR_ZERO), best >= 1 - NEAR_ZERO ? 1 : end(1 - NEAR_ZERO)];
}

function logWays({ trials, correct }: RepeatedAnswers): number {
  return logGamma(trials + 1) - logGamma(correct + 1) - logGamma(trials - correct + 1);
}
