import type { Random } from '../numeric/random.ts';
import { BatchImprovement } from './batch-improvement.ts';
import type { DistanceDraws } from './distance-draws.ts';
import { LearningGain } from './learning-gain.ts';

/** Points to choose a batch from, all on the same joint draws. */
export interface BatchSetup {
  draws: DistanceDraws;
  /** Points that stand for new mixes. */
  fresh: readonly number[];
  /** Points that stand for mixes tasted before, which may be poured again. */
  existing: readonly number[];
  /** Points that stand for mixes that wait to be tasted: what they will teach is counted before anything is chosen. */
  waiting: readonly number[];
  /** Points that might be recommended in the end. */
  finalists: readonly number[];
  /** By attribute that counts: variance of one new mix's mean. */
  noise: readonly number[];
  /** 0 = improvement alone, 1 = learning alone. */
  learning: number;
  /** A point that goes into the batch whatever its gain; null for none. */
  first: number | null;
  /** Whether there is enough on hand to make these points together. */
  affordable(points: readonly number[]): boolean;
  /** Whether two points taste too much alike to be poured side by side. */
  alike(a: number, b: number): boolean;
  random: Random;
}

export interface ChosenBatch {
  points: number[];
  /** Expected distance at the best finalist now, and after the whole batch is tasted. */
  before: number;
  after: number;
}

/** Candidates whose learning is worked out, the most promising by improvement first. */
const JUDGED = 60;

/**
 * Chooses a batch in turn. Each candidate's worth is (1 - learning) · its expected improvement + learning · the
 * drop in expected distance that tasting it teaches, each relative to the best candidate's.
 */
export function chooseBatch(setup: BatchSetup, count: number): ChosenBatch {
  const { draws, existing, waiting, random, finalists, noise } = setup;
  const improvement = new BatchImprovement(draws, existing);
  const learning = new LearningGain({ draws, noise, finalists, random });
  const before = learning.after(null);
  for (const point of waiting) {
    improvement.add(point);
    learning.add(point);
  }
  const points: number[] = [];
  let open = [...setup.fresh];
  for (let slot = 0; slot < count; slot++) {
    open = open.filter(
      (i) =>
        !points.includes(i) &&
        setup.affordable([...points, i]) &&
        ![...points, ...existing, ...waiting].some((j) => setup.alike(i, j)),
    );
    const again = existing.filter((i) => !points.includes(i));
    if (open.length + again.length === 0) break;
    const forced = slot === 0 && setup.first !== null && setup.affordable([setup.first]) ? setup.first : null;
    const pick = forced ?? nextPoint({ open, again, improvement, learning, share: setup.learning });
    points.push(pick);
    improvement.add(pick);
    learning.add(pick);
  }
  return { points, before, after: learning.after(null) };
}

interface Slot {
  open: readonly number[];
  again: readonly number[];
  improvement: BatchImprovement;
  learning: LearningGain;
  share: number;
}

function nextPoint({ open, again, improvement, learning, share }: Slot): number {
  const gains = open
    .map((point) => ({ point, log: improvement.logGain(point) }))
    .sort((a, b) => b.log - a.log || a.point - b.point);
  const top = gains[0]?.log ?? 0;
  if (share === 0 && gains.length > 0) return gains[0]!.point;
  const judged = [
    ...gains.slice(0, JUDGED).map(({ point, log }) => ({ point, gain: Math.exp(log - top) })),
    ...again.map((point) => ({ point, gain: 0 })),
  ].map((candidate) => ({ ...candidate, after: learning.after(candidate.point) }));
  const least = Math.min(...judged.map(({ after }) => after));
  const now = learning.after(null);
  const drop = Math.max(1e-9, now - least);
  const worth = judged.map(({ point, gain, after }) => ({
    point,
    value: (1 - share) * gain + (share * (now - after)) / drop,
  }));
  return worth.reduce((a, b) => (b.value > a.value ? b : a)).point;
}
