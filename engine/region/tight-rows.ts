import { innerProduct } from '../numeric/dense.ts';
import type { Limit } from './limits.ts';

/**
 * The mix nearest to a given one, component by component on its own scale, on which every given limit holds with
 * equality and shares sum to 1: one correction by elimination with full pivoting. Rows that depend on others are
 * passed over.
 */
export function solveTight(
  limits: readonly Limit[],
  shares: readonly number[],
  low: readonly number[],
  high: readonly number[],
): number[] {
  const q = shares.length;
  const scale = low.map((l, i) => Math.max(high[i]! - l, 1e-9 * high[i]!, 1e-300));
  const ones = shares.map(() => 1);
  const rows = [{ coefficients: ones, at: 1 }, ...limits].map(({ coefficients, at }) => {
    const row = coefficients.map((c, i) => c * scale[i]!);
    const size = Math.max(...row.map(Math.abs), 1e-300);
    return [...row.map((c) => c / size), (at - innerProduct(coefficients, shares)) / size];
  });
  const step = eliminate(rows, q);
  return shares.map((s, i) => s + step[i]! * scale[i]!);
}

/** Solves as many independent rows as there are; free columns stay zero. */
function eliminate(rows: number[][], q: number): number[] {
  const pivots: [number, number][] = [];
  for (;;) {
    let best = 1e-9;
    let at: [number, number] | null = null;
    rows.forEach((row, r) => {
      if (pivots.some(([pr]) => pr === r)) return;
      for (let c = 0; c < q; c++)
        if (Math.abs(row[c]!) > best) {
          best = Math.abs(row[c]!);
          at = [r, c];
        }
    });
    if (at === null) break;
    const [r, c] = at as [number, number];
    pivots.push([r, c]);
    rows.forEach((row, k) => {
      if (k === r) return;
      const factor = row[c]! / rows[r]![c]!;
      if (factor !== 0) for (let i = 0; i <= q; i++) row[i] = row[i]! - factor * rows[r]![i]!;
    });
  }
  const step = new Array<number>(q).fill(0);
  for (const [r, c] of pivots) step[c] = rows[r]![q]! / rows[r]![c]!;
  return step;
}
