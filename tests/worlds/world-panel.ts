import type { Serving } from '../../engine/panel/observations.ts';
import { type NamedStream, namedStream } from '../../trials/demo/named-stream.ts';

/** The panel of a world: six invented assessors with lasting habits, and how noisy their cups are. */
export interface WorldPanel {
  seed: number;
  names: readonly string[];
  /** By assessor and attribute. */
  offsets: readonly (readonly number[])[];
  /** By assessor: how much of a true difference reaches the scale. */
  slopes: readonly number[];
  /** By attribute: the true score that slopes leave alone. */
  pivots: readonly number[];
  cupDeviation: number;
  /** By attribute: points added to the first cup of a sitting. */
  firstCup: readonly number[];
  /** By attribute: share of the cup before (about its pivot) that is taken off the next. */
  carryOver: readonly number[];
}

/** A cup to be tasted: a mix by name with its true scores. */
export interface TrueCup {
  mix: string;
  scores: readonly number[];
  replicate?: string;
}

const OFFSET_DEVIATION = 8;
const SLOPES = [0.8, 1.25] as const;
const ASSESSOR_BY_MIX_DEVIATION = 4;
const SESSION_DEVIATION = 3;
const MISSING_SHARE = 0.02;

/** Draws a panel for attributes whose true scores are `pivots` on average over the region. */
export function drawPanel(
  seed: number,
  assessors: number,
  pivots: readonly number[],
  stream: NamedStream,
): WorldPanel {
  const names = Array.from({ length: assessors }, (_, a) => `P${a + 1}`);
  return {
    seed,
    names,
    offsets: names.map(() => pivots.map(() => stream.normal(OFFSET_DEVIATION))),
    slopes: names.map(() => SLOPES[0] + (SLOPES[1] - SLOPES[0]) * stream.uniform()),
    pivots,
    cupDeviation: 6 + 6 * stream.uniform(),
    firstCup: pivots.map(() => (stream.uniform() < 0.3 ? 2 + 2 * stream.uniform() : 0)),
    carryOver: pivots.map(() => (stream.uniform() < 0.4 ? 0.1 * stream.uniform() : 0)),
  };
}

/** What these assessors give on average, their lasting habits included and everything passing left out. */
export function panelAverage(panel: WorldPanel, scores: readonly number[]): number[] {
  return scores.map((score, k) => {
    const given = panel.names.map((_, a) => clip(habit(panel, a, k, score)));
    return given.reduce((x, y) => x + y, 0) / given.length;
  });
}

/**
 * One sitting: every assessor tastes the given cups, in an order that moves on by one from assessor to assessor
 * and is turned round for every other one. Score = habit + own reaction to this mix (the same at every pouring) +
 * session + order + cup noise, rounded to whole points and clipped; one answer in fifty is missing.
 */
export function tasteSitting(
  panel: WorldPanel,
  cups: readonly TrueCup[],
  at: { session: string; seed: number },
): Serving[] {
  return panel.names.flatMap((assessor, a) => {
    const order = orderFor(cups, a, namedStream(at.seed, 'order', at.session));
    return order.map((cup, i): Serving => {
      const stream = namedStream(at.seed, 'cup', at.session, assessor, i);
      const before = i > 0 ? order[i - 1]!.scores : null;
      const exact = exactScores(panel, a, { cup, before, session: at.session });
      const scores = exact.map((score) => {
        const noisy = clip(Math.round(score + stream.normal(panel.cupDeviation)));
        return stream.uniform() < MISSING_SHARE ? null : noisy;
      });
      const replicate = cup.replicate ?? '1';
      return { mix: cup.mix, assessor, session: at.session, replicate, position: i + 1, scores };
    });
  });
}

function exactScores(
  panel: WorldPanel,
  a: number,
  served: { cup: TrueCup; before: readonly number[] | null; session: string },
): number[] {
  const reaction = ownReaction(panel, a, served.cup.mix);
  const evening = sessionEffect(panel, served.session);
  return served.cup.scores.map((score, k) => {
    const lasting = habit(panel, a, k, score) + reaction[k]!;
    return lasting + evening[k]! + orderEffect(panel, k, served.before);
  });
}

/** What one assessor gives a mix beside the habit, by attribute: the same at every pouring. */
export function ownReaction(panel: WorldPanel, a: number, mix: string): number[] {
  const stream = namedStream(panel.seed, 'reaction', panel.names[a]!, mix);
  return panel.pivots.map(() => stream.normal(ASSESSOR_BY_MIX_DEVIATION));
}

/** What an evening adds to everybody's scores, by attribute. */
export function sessionEffect(panel: WorldPanel, session: string): number[] {
  const stream = namedStream(panel.seed, 'session', session);
  return panel.pivots.map(() => stream.normal(SESSION_DEVIATION));
}

/** What the place in the order adds: to a first cup, or after a cup with these true scores. */
export function orderEffect(panel: WorldPanel, k: number, before: readonly number[] | null): number {
  return before ? -panel.carryOver[k]! * (before[k]! - panel.pivots[k]!) : panel.firstCup[k]!;
}

/** What an assessor's lasting habits make of a true score. */
export function habit(panel: WorldPanel, a: number, k: number, score: number): number {
  const pivot = panel.pivots[k]!;
  return pivot + panel.offsets[a]![k]! + panel.slopes[a]! * (score - pivot);
}

/** A drawn order of the sitting, started one cup later for each assessor and reversed for every other one. */
function orderFor(cups: readonly TrueCup[], a: number, stream: NamedStream): TrueCup[] {
  const drawn = [...cups];
  for (let i = drawn.length - 1; i > 0; i--) {
    const j = Math.floor((i + 1) * stream.uniform());
    [drawn[i], drawn[j]] = [drawn[j]!, drawn[i]!];
  }
  const turned = drawn.map((_, i) => drawn[(i + Math.floor(a / 2)) % drawn.length]!);
  return a % 2 === 0 ? turned : turned.reverse();
}

function clip(score: number): number {
  return Math.min(100, Math.max(0, score));
}
