import { EngineError } from '../errors.ts';
import { binomialUpper } from '../numeric/binomial.ts';
import { requireCount } from '../numeric/guard.ts';
import { requirePower, requireShare } from './check-input.ts';
import { exactInterval, fewestCorrect } from './critical.ts';
import { chernoffTrials, type ExactPlan, planExactly } from './exact-plan.ts';
import { percent, pWords } from './words.ts';

export interface PreferenceReading {
  /** Chance of counts at least as uneven, either way, if both were liked alike; null where nobody chose. */
  p: number | null;
  /** Share of those with a preference who prefer the first, with its exact 95 % interval. */
  share: number | null;
  interval: [number, number] | null;
  /** Fewest for the same sample that show a preference at 0.05; null where no number does. */
  needed: number | null;
  says: string;
}

/**
 * Paired preference: two-sided, since either may win (ISO 5495). Tasters without a preference are counted apart and
 * do not enter p.
 */
export function readPreference(first: number, second: number, neither = 0): PreferenceReading {
  for (const [name, count] of Object.entries({ first, second, neither })) requireCount(name, count);
  const choosing = first + second;
  if (choosing === 0)
    return {
      p: null,
      share: null,
      interval: null,
      needed: null,
      says: 'Nobody chose, so nothing may be claimed about which is preferred.',
    };
  const more = Math.max(first, second);
  const p = Math.min(1, 2 * binomialUpper(more, choosing, 0.5));
  const needed = fewestCorrect(choosing, 0.5, 0.025);
  const interval = exactInterval(first, choosing);
  const reading = { p, share: first / choosing, interval, needed };
  return { ...reading, says: sentence(first, second, neither, reading) };
}

function sentence(
  first: number,
  second: number,
  neither: number,
  { p, interval, needed }: Omit<PreferenceReading, 'says'>,
): string {
  const score = `${first} prefer the first, ${second} the second${neither > 0 ? `, ${neither} neither` : ''}`;
  if (needed === null)
    return `${score}: too few to show a preference whatever they say; nothing may be claimed.`;
  const winner = first > second ? 'first' : 'second';
  const range = `${percent(interval![0])} to ${percent(interval![1])} of such people with a preference choose the first`;
  if (Math.max(first, second) >= needed)
    return `${score} (${pWords(p!)}): the ${winner} is preferred; ${range}. How much better it is liked is not said by this.`;
  return `${score} (${pWords(p!)}): no preference is shown. That does not show that both are liked alike: ${range}.`;
}

/**
 * How many people with a preference it takes to show that a `share` of them (not ½) prefers one of the two, either
 * way round, two-sided at `alpha`.
 *
 * @returns null where more than 200,000 may be needed
 */
export function planPreference(share: number, { power = 0.8, alpha = 0.05 } = {}): ExactPlan | null {
  requireShare('share', share);
  requirePower(power, alpha);
  if (share === 0.5) throw new EngineError('bad-argument', 'share', share, 'a share other than one half');
  const larger = Math.max(share, 1 - share);
  return planExactly(
    {
      chance: 0.5,
      alpha: alpha / 2,
      powerAt: (needed, n) => binomialUpper(needed, n, larger) + binomialUpper(needed, n, 1 - larger),
      surelyBy: chernoffTrials(0.5, larger, alpha / 2, power),
    },
    power,
  );
}
