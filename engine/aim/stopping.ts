/** What the advice rests on. */
export interface StopEvidence {
  /** Chance that the best ratio matches. */
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
  /** What keeps the best ratio from the target, the worst first: words of attribute and miss. */
  holdsBack: readonly string[];
  /** Limits of the brief that the best ratio lies on. */
  onLimits: readonly string[];
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

/**
 * Whether to stop, with the reason in one sentence. In turn: only more cups would help; the chance is as high as
 * this panel can show it (and a mix like the best has been tasted, since a prediction that was picked for being the
 * best flatters itself); the target is out of reach in this region; another round is expected to bring less than
 * the panel can taste; else go on. The thresholds are our own, tuned on simulated worlds.
 */
export function stopAdvice(evidence: StopEvidence): StopAdvice {
  const { chance, highestChance, before, after, panelStep, reachable, confirmed } = evidence;
  const gain = before - after;
  const shown = `${inHundred(chance)}, where even a perfect match would show ${inHundred(highestChance)} with this panel`;
  if (highestChance < SHOWS && chance >= NEAR_HIGHEST * highestChance)
    return {
      advised: false,
      because: `The chance of a match is ${shown}: new ratios cannot raise it, more cups of the best mix can.`,
    };
  if (chance >= NEAR_HIGHEST * highestChance)
    return confirmed
      ? { advised: true, because: `The chance of a match is ${shown}, and a mix like it has been tasted.` }
      : {
          advised: false,
          because: `The chance of a match is ${shown}: weigh the best ratio once and taste it before settling on it.`,
        };
  if (reachable < OUT_OF_REACH)
    return { advised: true, because: `The target is out of reach in this region: ${heldBack(evidence)}.` };
  if (gain < WORTHWHILE * panelStep)
    return {
      advised: true,
      because: `Another round is expected to bring ${points(gain)}, less than this panel can taste; the chance of a match is ${shown}. What holds it back: ${heldBack(evidence)}.`,
    };
  return {
    advised: false,
    because: `The chance of a match is ${shown}; the next mixes are expected to bring the distance from ${points(before)} to ${points(after)}.`,
  };
}

function heldBack({ holdsBack, onLimits }: StopEvidence): string {
  const misses = holdsBack.length > 0 ? holdsBack.join(', ') : 'no single attribute';
  return onLimits.length > 0 ? `${misses}, with the ratio at its limit (${onLimits.join('; ')})` : misses;
}

function inHundred(share: number): string {
  return `${Math.round(100 * share)} in 100`;
}

function points(distance: number): string {
  return `${Math.max(0, distance).toFixed(1)} points`;
}
