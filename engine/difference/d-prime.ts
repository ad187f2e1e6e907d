import { chiSquareQuantile } from '../numeric/chi-square.ts';
import { findRoot } from '../numeric/root.ts';
import { type DifferenceMethod, factsOf } from './methods.ts';
import { dPrimeAt } from './psychometric.ts';

export interface DPrimeReading {
  /** 0 at or below guessing, null where every answer is correct. */
  dPrime: number | null;
  /** By the delta method; null where d′ is 0 or null. */
  dPrimeStandardError: number | null;
  /** By the likelihood ratio; the upper end is null where every answer is correct. */
  dPrimeInterval: [number, number | null];
}

/**
 * d′ by maximum likelihood, its standard error √(pc (1-pc) / n) / pc′(d′) (Bi, Ennis and O'Mahony 1997, J. Sensory
 * Studies 12, 87-104), and the 95 % interval of all d′ whose deviance from the best is below the chi-square quantile
 * with one degree of freedom (Brockhoff and Christensen 2010, Food Qual. Pref. 21, 330-338).
 */
export function readDPrime(method: DifferenceMethod, trials: number, correct: number): DPrimeReading {
  const share = correct / trials;
  const dPrime = dPrimeAt(method, share);
  const error =
    dPrime === null || dPrime === 0
      ? null
      : Math.sqrt((share * (1 - share)) / trials) / factsOf(method).slope(dPrime);
  return { dPrime, dPrimeStandardError: error, dPrimeInterval: likelihoodInterval(method, trials, correct) };
}

function likelihoodInterval(
  method: DifferenceMethod,
  trials: number,
  correct: number,
): [number, number | null] {
  const { chance } = factsOf(method);
  const best = Math.max(chance, correct / trials);
  const allowed = chiSquareQuantile(0.95, 1);
  const deviance = (share: number) =>
    2 * (logLikelihood(best, trials, correct) - logLikelihood(share, trials, correct)) - allowed;
  const low = best === chance || deviance(chance) <= 0 ? chance : findRoot(deviance, chance, best).x;
  if (correct === trials) return [dPrimeAt(method, low)!, null];
  return [dPrimeAt(method, low)!, dPrimeAt(method, findRoot(deviance, best, 1 - 1e-15).x)];
}

function logLikelihood(share: number, trials: number, correct: number): number {
  const part = (count: number, log: number) => (count === 0 ? 0 : count * log);
  return part(correct, Math.log(share)) + part(trials - correct, Math.log1p(-share));
}
