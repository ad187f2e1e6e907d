import { binomialUpper } from '../numeric/binomial.ts';
import { fewestCorrect } from './critical.ts';

export interface ExactTest {
  /** Chance of a success where there is nothing to find. */
  chance: number;
  /** Error rate of the tail whose critical number decides. */
  alpha: number;
  /** Probability of a decision where the truth is otherwise, given the critical number. */
  powerAt(needed: number, trials: number): number;
  /** From this number of trials on the power provably holds; a bound, usually two to three times too large. */
  surelyBy: number;
}

export interface ExactPlan {
  /** From here on every larger number holds the power. */
  trials: number;
  /** The first number that reaches it. */
  firstTrials: number;
  /** Critical number at `trials`. */
  needed: number;
  /** Power at `trials`. */
  power: number;
}

/** Beyond this the bound is no tasting that anybody would run, and counting it through would take seconds. */
const MOST_TRIALS = 200_000;

/**
 * Fewest trials by exact power, which is saw-toothed: it falls wherever one more success is asked for. While the
 * critical number stands still it rises, so a tooth is followed only until it holds.
 *
 * @returns null where more than 200,000 trials may be needed
 */
export function planExactly(test: ExactTest, power: number): ExactPlan | null {
  if (!(test.surelyBy <= MOST_TRIALS)) return null;
  const end = Math.ceil(test.surelyBy) + 1;
  let firstTrials = 0;
  let lastFailing = 0;
  let needed: number | null = null;
  let holding = false;
  for (let n = 1; n <= end; n++) {
    const before: number | null = needed;
    needed = nextNeeded(needed, n, test);
    if (needed !== before) holding = false;
    if (holding) continue;
    holding = needed !== null && test.powerAt(needed, n) >= power;
    if (!holding) lastFailing = n;
    else if (firstTrials === 0) firstTrials = n;
  }
  const trials = lastFailing + 1;
  const critical = fewestCorrect(trials, test.chance, test.alpha)!;
  return { trials, firstTrials, needed: critical, power: test.powerAt(critical, trials) };
}

/** With one trial more the critical number stays or rises by one. */
function nextNeeded(before: number | null, trials: number, { chance, alpha }: ExactTest): number | null {
  if (before === null) return fewestCorrect(trials, chance, alpha);
  return binomialUpper(before, trials, chance) <= alpha * (1 + 1e-12) ? before : before + 1;
}

/**
 * A number of trials from which a one-sided test surely holds its power, by Chernoff's bound on both sides: with
 * D(x‖p) the relative entropy, take x between chance and truth where ln(1/α) / D(x‖chance) = ln(1/β) / D(x‖truth).
 */
export function chernoffTrials(chance: number, truth: number, alpha: number, power: number): number {
  const [found, missed] = [-Math.log(alpha), -Math.log1p(-power)];
  let [low, high] = [chance, truth];
  for (let i = 0; i < 60; i++) {
    const x = (low + high) / 2;
    if (found * entropy(x, truth) > missed * entropy(x, chance)) low = x;
    else high = x;
  }
  return found / entropy((low + high) / 2, chance);
}

function entropy(x: number, p: number): number {
  const part = (a: number, b: number) => (a === 0 ? 0 : a * Math.log(a / b));
  return part(x, p) + part(1 - x, 1 - p);
}
