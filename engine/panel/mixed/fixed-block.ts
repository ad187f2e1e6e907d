import type { Workings } from './workings.ts';

/** (Q'V⁻¹Q)⁻¹: the last p rows and columns of K. */
export function fixedBlock(w: Workings, p: number): Float64Array {
  const out = new Float64Array(p * p);
  const first = w.width - p;
  for (let i = 0; i < p; i++) {
    const at = (first + i) * w.width + first;
    out.set(w.inverse.subarray(at, at + p), i * p);
  }
  return out;
}

/** V⁻¹Q(Q'V⁻¹Q)⁻¹ in coordinates of V_L⁻¹[Z_G Q]: the last p columns of K, width × p. */
export function fixedColumns(w: Workings, p: number): Float64Array {
  const out = new Float64Array(w.width * p);
  for (let i = 0; i < w.width; i++)
    out.set(w.inverse.subarray((i + 1) * w.width - p, (i + 1) * w.width), i * p);
  return out;
}

/** Q'V⁻¹Q v, by the lower right of the border's Cholesky factor. */
export function fixedInformationTimes(w: Workings, v: Float64Array): Float64Array {
  const p = v.length;
  const first = w.width - p;
  const l = (i: number, j: number) => w.reduction.borderFactor[(first + i) * w.width + first + j]!;
  const half = new Float64Array(p);
  for (let i = 0; i < p; i++) for (let j = 0; j <= i; j++) half[j]! += l(i, j) * v[i]!;
  const out = new Float64Array(p);
  for (let i = 0; i < p; i++) for (let j = 0; j <= i; j++) out[i]! += l(i, j) * half[j]!;
  return out;
}
