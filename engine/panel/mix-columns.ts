import type { BesideColumns, Cups } from './cups.ts';

/** One indicator column for each mix, so that the coefficients are the mixes' means: n × mixes, row by row. */
export function mixColumns(cups: Pick<Cups, 'mixes' | 'mixOf'>): Float64Array {
  const m = cups.mixes.length;
  const out = new Float64Array(cups.mixOf.length * m);
  cups.mixOf.forEach((mix, i) => {
    out[i * m + mix] = 1;
  });
  return out;
}

/** n × p columns with others put behind them. */
export function joinColumns(
  columns: Float64Array,
  beside: BesideColumns | undefined,
  n: number,
): Float64Array {
  if (!beside) return columns;
  const [p, more] = [columns.length / n, beside.names.length];
  const out = new Float64Array(n * (p + more));
  for (let i = 0; i < n; i++) {
    out.set(columns.subarray(i * p, (i + 1) * p), i * (p + more));
    out.set(beside.values.subarray(i * more, (i + 1) * more), i * (p + more) + p);
  }
  return out;
}
