import { betaQuantile, binomialUpper } from '../numeric/binomial.ts';

/** Two numbers that differ by rounding alone count as equal. */
const ROUNDING = 1e-12;

/**
 * Fewest successes of `trials` that guessing at `chance` reaches with a probability of at most `alpha`; null where
 * not even all of them do.
 */
export function fewestCorrect(trials: number, chance: number, alpha: number): number | null {
  const rare = (k: number) => binomialUpper(k, trials, chance) <= alpha * (1 + ROUNDING);
  if (!rare(trials)) return null;
  let [low, high] = [0, trials];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (rare(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/** Exact two-sided interval of a proportion (Clopper and Pearson 1934). */
export function exactInterval(successes: number, trials: number, confidence = 0.95): [number, number] {
  const tail = (1 - confidence) / 2;
  return [
    successes === 0 ? 0 : betaQuantile(tail, successes, trials - successes + 1),
    successes === trials ? 1 : betaQuantile(1 - tail, successes + 1, trials - successes),
  ];
}
