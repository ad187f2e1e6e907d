import { EngineError } from '../../errors.ts';
import { studentQuantile } from '../../numeric/student.ts';

/** One taster's answer about one mix: how far from just about right (negative = too weak), and the liking. */
export interface RightAnswer {
  side: number;
  liking: number;
}

export interface Side {
  count: number;
  share: number;
  mean: number | null;
  /** Mean liking where just about right minus mean liking here; null where either is empty. */
  drop: number | null;
  /** 95 % interval of the drop (Welch); null with fewer than two answers on either side or none that differ. */
  interval: [number, number] | null;
  /** share × drop: what this side costs the mean liking. */
  cost: number | null;
  /** Whether enough chose it for the drop to be worth acting on. */
  counts: boolean;
}

export interface Penalty {
  count: number;
  mean: number;
  right: { count: number; share: number; mean: number | null };
  tooWeak: Side;
  tooStrong: Side;
  /** Both sides together. */
  off: Side;
}

/** A side chosen by fewer than this share is not worth acting on (convention of ASTM MNL 63). */
const ENOUGH = 0.2;

/**
 * Penalty analysis of a just-about-right scale: how much liking is lost by those for whom the mix is too weak or
 * too strong. mean = mean where right - Σ share × drop. Source: Rothman and Parker (editors) 2009, ASTM MNL 63;
 * the interval by Welch 1947.
 *
 * @param answers at least one
 */
export function penaltyAnalysis(answers: readonly RightAnswer[], enough = ENOUGH): Penalty {
  if (answers.length === 0 || answers.some((a) => !Number.isFinite(a.side) || !Number.isFinite(a.liking)))
    throw new EngineError('bad-argument', 'answers', answers.length, 'at least one answer, all finite');
  const likings = (keep: (side: number) => boolean) =>
    answers.filter((a) => keep(a.side)).map((a) => a.liking);
  const right = likings((side) => side === 0);
  const side = (keep: (side: number) => boolean) => sideOf(likings(keep), right, answers.length, enough);
  return {
    count: answers.length,
    mean: meanOf(likings(() => true))!,
    right: { count: right.length, share: right.length / answers.length, mean: meanOf(right) },
    tooWeak: side((s) => s < 0),
    tooStrong: side((s) => s > 0),
    off: side((s) => s !== 0),
  };
}

function sideOf(here: readonly number[], right: readonly number[], total: number, enough: number): Side {
  const share = here.length / total;
  const mean = meanOf(here);
  const rightMean = meanOf(right);
  const drop = mean === null || rightMean === null ? null : rightMean - mean;
  const cost = drop === null ? null : share * drop;
  const interval = drop === null ? null : welchInterval(drop, right, here);
  return { count: here.length, share, mean, drop, interval, cost, counts: share >= enough };
}

function meanOf(values: readonly number[]): number | null {
  return values.length === 0 ? null : values.reduce((sum, v) => sum + v, 0) / values.length;
}

function welchInterval(drop: number, a: readonly number[], b: readonly number[]): [number, number] | null {
  if (a.length < 2 || b.length < 2) return null;
  const [va, vb] = [varianceOf(a) / a.length, varianceOf(b) / b.length];
  if (!(va + vb > 0)) return null;
  const df = (va + vb) ** 2 / (va ** 2 / (a.length - 1) + vb ** 2 / (b.length - 1));
  const half = studentQuantile(0.975, df) * Math.sqrt(va + vb);
  return [drop - half, drop + half];
}

function varianceOf(values: readonly number[]): number {
  const mean = meanOf(values)!;
  return values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (values.length - 1);
}
