import type { BlendSpace } from '../../../engine/region/blend-space.ts';

/** a · shares ≤ limit. */
export interface Limit {
  a: readonly number[];
  limit: number;
}

/** Slack for sums of decimals, in shares. */
const SLACK = 1e-9;

/** Everything that the brief allows, as limits of one kind. */
export function limitsOf(space: BlendSpace): Limit[] {
  const n = space.components.length;
  const unit = (i: number, sign: number) => Array.from({ length: n }, (_, at) => (at === i ? sign : 0));
  const own = space.components.flatMap(({ low, high }, i): Limit[] => [
    { a: unit(i, 1), limit: high },
    { a: unit(i, -1), limit: -low },
  ]);
  const joint = space.bounds.flatMap(({ of, least, most }): Limit[] => {
    const a = space.components.map(({ id }) => (Object.hasOwn(of, id) ? of[id]! : 0));
    return [
      ...(most === undefined ? [] : [{ a, limit: most }]),
      ...(least === undefined ? [] : [{ a: a.map((x) => -x), limit: -least }]),
    ];
  });
  return [...own, ...joint];
}

/** By how much a blend breaks the limits, in shares, summed; 0 where it is allowed. */
export function excess(limits: readonly Limit[], shares: readonly number[]): number {
  return limits.reduce((sum, { a, limit }) => sum + Math.max(0, dot(a, shares) - limit - SLACK), 0);
}

/** How far a blend may move along a direction: the steps t for which shares + t · direction is allowed. */
export function reach(
  limits: readonly Limit[],
  shares: readonly number[],
  direction: readonly number[],
): [number, number] {
  let low = Number.NEGATIVE_INFINITY;
  let high = Number.POSITIVE_INFINITY;
  for (const { a, limit } of limits) {
    const slope = dot(a, direction);
    const room = limit - dot(a, shares) + SLACK;
    if (slope > 1e-12) high = Math.min(high, room / slope);
    else if (slope < -1e-12) low = Math.max(low, room / slope);
  }
  return [low, high];
}

/** Shares as whole steps of the balance that sum to the batch: largest remainders first. */
export function toSteps(shares: readonly number[], total: number): number[] {
  const exact = shares.map((share) => share * total);
  const steps = exact.map(Math.floor);
  const order = exact
    .map((value, i) => [value - steps[i]!, i] as const)
    .sort((p, q) => q[0] - p[0] || p[1] - q[1]);
  let left = total - steps.reduce((sum, step) => sum + step, 0);
  for (let k = 0; left > 0; k = (k + 1) % order.length, left--) steps[order[k]![1]]! += 1;
  return steps;
}

/**
 * The weighable blend near some shares: rounded, then single steps of the balance are passed from one component to
 * another for as long as that mends what is broken. Null where no such step helps.
 */
export function nearestWeighable(
  limits: readonly Limit[],
  shares: readonly number[],
  total: number,
): number[] | null {
  let steps = toSteps(shares, total);
  let broken = excess(limits, sharesOf(steps));
  for (let tries = 0; broken > 0 && tries < 4 * total; tries++) {
    const better = bestPass(limits, steps, broken);
    if (better === null) return null;
    ({ steps, broken } = better);
  }
  return broken > 0 ? null : steps;
}

function bestPass(limits: readonly Limit[], steps: readonly number[], broken: number) {
  let best: { steps: number[]; broken: number } | null = null;
  for (let from = 0; from < steps.length; from++)
    for (let to = 0; to < steps.length; to++) {
      if (from === to || steps[from] === 0) continue;
      const next = [...steps];
      next[from]! -= 1;
      next[to]! += 1;
      const left = excess(limits, sharesOf(next));
      if (left < (best?.broken ?? broken) - 1e-15) best = { steps: next, broken: left };
    }
  return best;
}

/** Whole steps as shares of their sum. */
export function sharesOf(steps: readonly number[]): number[] {
  const total = steps.reduce((sum, step) => sum + step, 0);
  return steps.map((step) => step / total);
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, x, i) => sum + x * b[i]!, 0);
}
