import { EngineError } from '../errors.ts';

export interface Root {
  x: number;
  /** What the function still is there. */
  value: number;
  evaluations: number;
}

interface Bracket {
  /** Best guess so far, the one before, and the other end: f changes sign between `best` and `other`. */
  best: number;
  previous: number;
  other: number;
  atBest: number;
  atPrevious: number;
  atOther: number;
}

/**
 * A root of f between two points where its sign differs: inverse quadratic interpolation, secant or halving,
 * whichever is safe (Brent 1973, Algorithms for Minimization without Derivatives, chapter 4).
 *
 * @param tolerance of x, absolute, beside four units in its last place; default 0
 * @throws EngineError `bad-argument` where the sign does not differ
 */
export function findRoot(f: (x: number) => number, from: number, to: number, tolerance = 0): Root {
  let evaluations = 2;
  const b = ordered({
    best: to,
    previous: from,
    other: from,
    atBest: f(to),
    atPrevious: f(from),
    atOther: f(from),
  });
  if (!(b.atBest * b.atOther <= 0))
    throw new EngineError('bad-argument', 'from, to', [from, to], 'points where the function changes sign');
  let step = b.best - b.previous;
  let stepBefore = step;
  for (; evaluations < 300; evaluations++) {
    const least = 2 * Number.EPSILON * Math.abs(b.best) + tolerance / 2;
    const half = (b.other - b.best) / 2;
    if (Math.abs(half) <= least || b.atBest === 0) break;
    const guess =
      Math.abs(stepBefore) >= least && Math.abs(b.atPrevious) > Math.abs(b.atBest) ? jump(b) : null;
    const safe =
      guess !== null &&
      guess * half > 0 &&
      Math.abs(guess) < Math.min(1.5 * Math.abs(half), Math.abs(stepBefore) / 2);
    stepBefore = safe ? step : half;
    step = safe ? guess : half;
    b.previous = b.best;
    b.atPrevious = b.atBest;
    b.best += Math.abs(step) > least ? step : Math.sign(half) * least;
    b.atBest = f(b.best);
    if (b.atBest * b.atOther > 0) {
      b.other = b.previous;
      b.atOther = b.atPrevious;
      step = stepBefore = b.best - b.previous;
    }
    ordered(b);
  }
  return { x: b.best, value: b.atBest, evaluations };
}

/** Keeps the end with the smaller value as the best guess. */
function ordered(b: Bracket): Bracket {
  if (Math.abs(b.atOther) < Math.abs(b.atBest)) {
    b.previous = b.best;
    b.best = b.other;
    b.other = b.previous;
    b.atPrevious = b.atBest;
    b.atBest = b.atOther;
    b.atOther = b.atPrevious;
  }
  return b;
}

/** The step of inverse quadratic interpolation through three points, of the secant through two. */
function jump({ best, previous, other, atBest, atPrevious, atOther }: Bracket): number {
  const s = atBest / atPrevious;
  if (previous === other) return ((other - best) * s) / (s - 1) || 0;
  const q = atPrevious / atOther;
  const r = atBest / atOther;
  const p = s * ((other - best) * q * (q - r) - (best - previous) * (r - 1));
  return -p / ((q - 1) * (r - 1) * (s - 1));
}
