import { cholesky, inverseFromCholesky } from '../numeric/dense.ts';

/** Which mixes are tasted together where nobody takes all cups at once. */
export interface PlannedSittings {
  /** Number of the sitting, from 1, of each mix. */
  of: number[];
  /**
   * Average variance with an effect of each sitting taken out, over that without: 1 where sittings and ratios are
   * kept wholly apart. Null where that many sittings leave too little to settle all terms.
   */
  cost: number | null;
}

/** Counted multiplications after which swapping ends. */
const MOST_WORK = 2e8;

/**
 * Divides mixes among sittings as blocks of as equal sizes as can be, so that what a sitting does to all its cups is
 * not mistaken for what the ratios do. Effects of sittings sum to zero over the cups; taking them out leaves
 * X'X - Σ s_b s_b'/n_b + s s'/N (s_b, s: sums of rows of a sitting, of all), whose inverse's trace is made small by
 * swapping mixes between sittings (Cook and Nachtsheim 1989).
 *
 * @param rows mixes × p, in coordinates in which the average variance is the trace
 * @param fixed information beside the rows: prior, and what is weighed already
 * @param count how many sittings
 */
export function divideAmongSittings(
  rows: readonly Float64Array[],
  fixed: Float64Array,
  count: number,
): PlannedSittings {
  const n = rows.length;
  if (count <= 1 || n <= 1) return { of: rows.map(() => 1), cost: 1 };
  const blocks = Math.min(count, n);
  const whole = traceWith(rows, fixed, { of: rows.map(() => 0), blocks: 1 });
  const of = rows.map((_, r) => r % blocks);
  let least = traceWith(rows, fixed, { of, blocks });
  let work = 0;
  for (let improved = true; improved; ) {
    improved = false;
    for (let a = 0; a < n; a++)
      for (let b = a + 1; b < n; b++) {
        if (of[a] === of[b] || work > MOST_WORK) continue;
        const swapped = of.with(a, of[b]!).with(b, of[a]!);
        const trace = traceWith(rows, fixed, { of: swapped, blocks });
        work += fixed.length * (n + rows[0]!.length);
        if (trace >= least * (1 - 1e-9)) continue;
        least = trace;
        [of[a], of[b]] = [of[b]!, of[a]!];
        improved = true;
      }
  }
  const settled = Number.isFinite(least) && Number.isFinite(whole);
  return { of: inOrder(of), cost: settled ? least / whole : null };
}

/** The first mix is tasted in the first sitting. */
function inOrder(of: readonly number[]): number[] {
  const seen = [...new Set(of)];
  return of.map((block) => seen.indexOf(block) + 1);
}

/** Trace of the inverse; very large where the information is singular. */
function traceWith(
  rows: readonly Float64Array[],
  fixed: Float64Array,
  { of, blocks }: { of: readonly number[]; blocks: number },
): number {
  const p = rows[0]!.length;
  const sums = Array.from({ length: blocks + 1 }, () => new Float64Array(p));
  const sizes = new Array<number>(blocks).fill(0);
  const sum = Float64Array.from(fixed);
  rows.forEach((row, r) => {
    sizes[of[r]!]!++;
    for (let i = 0; i < p; i++) {
      sums[of[r]!]![i]! += row[i]!;
      sums[blocks]![i]! += row[i]!;
      for (let j = 0; j < p; j++) sum[i * p + j]! += row[i]! * row[j]!;
    }
  });
  for (let b = 0; b <= blocks; b++) {
    const s = sums[b]!;
    const size = b === blocks ? -rows.length : sizes[b]!;
    for (let i = 0; i < p; i++) for (let j = 0; j < p; j++) sum[i * p + j]! -= (s[i]! * s[j]!) / size;
  }
  if (cholesky(sum, p, 0, 1e-12) === null) return Number.POSITIVE_INFINITY;
  const a = inverseFromCholesky(sum, p);
  let trace = 0;
  for (let i = 0; i < p; i++) trace += a[i * p + i]!;
  return trace;
}
