import type { Cups } from './cups.ts';

/** One indicator column for each mix, so that the coefficients are the mixes' means: n × mixes, row by row. */
export function mixColumns(cups: Pick<Cups, 'mixes' | 'mixOf'>): Float64Array {
  const m = cups.mixes.length;
  const out = new Float64Array(cups.mixOf.length * m);
  cups.mixOf.forEach((mix, i) => {
    out[i * m + mix] = 1;
  });
  return out;
}
