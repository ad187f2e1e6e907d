import type { BlendSpace } from '../../../engine/region/blend-space.ts';

/** A fraction of whole numbers. */
type Fraction = readonly [bigint, bigint];

/**
 * Corners by brute force in exact arithmetic: every choice of q - 1 limits that meets the sum in one point, kept
 * where no limit is broken. All numbers of the space are taken as decimals of at most six places.
 */
export function exactCorners(space: BlendSpace): number[][] {
  const limits = exactLimits(space);
  const q = space.components.length;
  const found = new Map<string, number[]>();
  for (const chosen of combinations(limits.length, q - 1)) {
    const rows = [{ row: new Array<Fraction>(q).fill([1n, 1n]), at: [1n, 1n] as Fraction }];
    const point = solve([...rows, ...chosen.map((k) => limits[k]!)], q);
    if (point === null || !limits.every((limit) => holds(limit, point))) continue;
    found.set(point.map(([n, d]) => `${n}/${d}`).join(), point.map(toNumber));
  }
  return [...found.values()];
}

interface ExactLimit {
  row: Fraction[];
  at: Fraction;
}

function exactLimits(space: BlendSpace): ExactLimit[] {
  const q = space.components.length;
  const unit = (i: number, sign: number) =>
    Array.from({ length: q }, (_, j) => toFraction(i === j ? sign : 0));
  const limits: ExactLimit[] = [];
  space.components.forEach(({ low, high }, i) => {
    limits.push({ row: unit(i, 1), at: toFraction(low) }, { row: unit(i, -1), at: toFraction(-high) });
  });
  for (const { of, least, most } of space.bounds) {
    const row = space.components.map(({ id }) => of[id] ?? 0);
    if (least !== undefined) limits.push({ row: row.map(toFraction), at: toFraction(least) });
    if (most !== undefined) limits.push({ row: row.map((c) => toFraction(-c)), at: toFraction(-most) });
  }
  return limits;
}

function toFraction(value: number): Fraction {
  return reduce(BigInt(Math.round(value * 1e6)), 1_000_000n);
}

function toNumber([n, d]: Fraction): number {
  return Number((n * 10n ** 20n) / d) / 1e20;
}

function reduce(n: bigint, d: bigint): Fraction {
  const divisor = common(n < 0n ? -n : n, d < 0n ? -d : d) || 1n;
  const sign = d < 0n ? -1n : 1n;
  return [(sign * n) / divisor, (sign * d) / divisor];
}

function common(a: bigint, b: bigint): bigint {
  return b === 0n ? a : common(b, a % b);
}

const times = (a: Fraction, b: Fraction): Fraction => reduce(a[0] * b[0], a[1] * b[1]);
const minus = (a: Fraction, b: Fraction): Fraction => reduce(a[0] * b[1] - b[0] * a[1], a[1] * b[1]);
const over = (a: Fraction, b: Fraction): Fraction => reduce(a[0] * b[1], a[1] * b[0]);

function holds({ row, at }: ExactLimit, point: readonly Fraction[]): boolean {
  const sum = row.reduce<Fraction>((s, c, i) => minus(s, times(reduce(-c[0], c[1]), point[i]!)), [0n, 1n]);
  return minus(sum, at)[0] >= 0n;
}

/** Gauss-Jordan; null where the rows do not meet in one point. */
function solve(limits: readonly ExactLimit[], q: number): Fraction[] | null {
  const a = limits.map(({ row, at }) => [...row, at]);
  for (let k = 0; k < q; k++) {
    const pivot = a.findIndex((row, r) => r >= k && row[k]![0] !== 0n);
    if (pivot < 0) return null;
    [a[k], a[pivot]] = [a[pivot]!, a[k]!];
    const head = a[k]![k]!;
    a[k] = a[k]!.map((v) => over(v, head));
    a.forEach((row, r) => {
      const factor = row[k]!;
      if (r === k || factor[0] === 0n) return;
      a[r] = row.map((v, c) => minus(v, times(factor, a[k]![c]!)));
    });
  }
  return a.map((row) => row[q]!);
}

function* combinations(n: number, k: number, from = 0): Generator<number[]> {
  if (k === 0) yield [];
  else
    for (let i = from; i <= n - k; i++) for (const rest of combinations(n, k - 1, i + 1)) yield [i, ...rest];
}
