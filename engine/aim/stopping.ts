import type { HeldBack } from './held-back.ts';
import type { RelaxedLimit } from './relaxed-limits.ts';

/** What the advice rests on. */
export interface StopEvidence {
  /** Chance that the best ratio matches, on the attributes that can be judged. */
  chance: number;
  /** The highest chance this panel could show at a perfect match. */
  highestChance: number;
  /** Expected distance at the best ratio now and after the proposed mixes, in points of 100. */
  before: number;
  after: number;
  /** Standard error of one new mix, as a distance in points of 100: less than this cannot be tasted in one round. */
  panelStep: number;
  /** Whether a mix that tastes like the best ratio has been tasted. */
  confirmed: boolean;
  /** Share of draws in which some ratio of the region matches. */
  reachable: number;
  /** Blends tasted, and how many it takes before a verdict on the whole region means anything. */
  blends: number;
  blendsNeeded: number;
  /** Root mean square standard error at the best ratio, in tolerances. */
  doubt: number;
  /** Aimed attributes that cannot be judged, a sentence each. */
  missing: readonly string[];
  /** What keeps the best ratio from the target, the worst first. */
  holdsBack: readonly HeldBack[];
  /** Limits that the best ratio lies on, and what giving way would bring, the most promising first. */
  limits: readonly RelaxedLimit[];
}

export interface StopAdvice {
  advised: boolean;
  because: string;
}

/** As good as the most that can be shown. */
const NEAR_HIGHEST = 0.9;
/** Below this even a perfect match would hardly show: more cups are missing, not more mixes. */
const SHOWS = 0.5;
/** A round that brings less than this part of what the panel tastes is not worth its grams. */
const WORTHWHILE = 0.06;
const OUT_OF_REACH = 0.05;
/** A profile known worse than this gives no chance of `SHOWS` on one attribute: a higher one was taken on trust. */
const UNTOLD = 1.5;
/** Where the best ratio's profile is known worse than this many tolerances, no region is called out of reach. */
const DOUBTFUL = 1;

/**
 * Whether to stop, with the reason in one sentence. In turn: what is aimed at but cannot be judged must be tasted
 * first; only more cups would help; the chance is as high as this panel can show it (the best profile is known at all,
 * and a mix like it has been tasted, since a prediction that was picked for being the best flatters itself); the target
 * is out of reach in this region, which takes enough blends and a profile known to within a tolerance; another round is
 * expected to bring less than the panel can taste; else go on. The thresholds are our own, tuned on simulated worlds.
 */
export function stopAdvice(evidence: StopEvidence): StopAdvice {
  const { chance, highestChance, before, after, panelStep, reachable, confirmed, missing } = evidence;
  const gain = before - after;
  if (missing.length > 0)
    return { advised: false, because: `No chance of a match can be given yet: ${missing.join(' ')}` };
  const shown = `${inHundred(chance)}, where even a perfect match would show ${inHundred(highestChance)} with this panel`;
  const known = evidence.blends >= evidence.blendsNeeded && evidence.doubt < DOUBTFUL;
  if (known && highestChance < SHOWS && chance >= NEAR_HIGHEST * highestChance)
    return {
      advised: false,
      because: `The chance of a match is ${shown}: new ratios cannot raise it, more cups of the best mix can.`,
    };
  if (chance >= NEAR_HIGHEST * highestChance && highestChance >= SHOWS && evidence.doubt < UNTOLD)
    return confirmed
      ? { advised: true, because: `The chance of a match is ${shown}, and a mix like it has been tasted.` }
      : {
          advised: false,
          because: `The chance of a match is ${shown}: weigh the best ratio once and taste it before settling on it.`,
        };
  if (known && reachable < OUT_OF_REACH)
    return {
      advised: true,
      because: `The target is out of reach in this region (some ratio matches in ${inHundred(reachable)} of what the scores allow): ${heldBackBy(evidence)}.`,
    };
  if (known && gain < WORTHWHILE * panelStep)
    return {
      advised: true,
      because: `Another round is expected to bring ${points(gain)}, less than this panel can taste; the chance of a match is ${shown}. What holds it back: ${heldBackBy(evidence)}.`,
    };
  const learning = known ? '' : ` ${learningSays(evidence)}`;
  return {
    advised: false,
    because: `The chance of a match is ${shown}; the next mixes are expected to bring the distance from ${points(before)} to ${points(after)}.${learning}`,
  };
}

function learningSays({ blends, blendsNeeded }: StopEvidence): string {
  return blends < blendsNeeded
    ? `With ${blends} of the ${blendsNeeded} blends that it takes to tell the ingredients apart, these figures are mostly guesses.`
    : 'The best ratio’s profile is not yet known to within the tolerances.';
}

function heldBackBy({ holdsBack, limits }: StopEvidence): string {
  const misses =
    holdsBack.length > 0
      ? holdsBack
          .slice(0, 2)
          .map(({ says }) => says)
          .join('; ')
      : 'each attribute can be met, but not all in one mix';
  const [most] = limits;
  if (most === undefined) return misses;
  return `${misses}. The best ratio lies at a limit (${most.limit}): ${most.to} instead is expected to bring the distance from ${points(most.before)} to ${points(most.after)}`;
}

function inHundred(share: number): string {
  return share < 0.005 ? 'fewer than 1 in 100' : `${Math.round(100 * share)} in 100`;
}

function points(distance: number): string {
  return `${Math.max(0, distance).toFixed(1)} points`;
}
