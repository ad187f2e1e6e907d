import { solveLower } from './dense.ts';
import type { Products, ScoreProducts } from './products.ts';
import type { Reduction } from './reduction.ts';
import type { Structure } from './structure.ts';

/** The local levels seen through V_L⁻¹, V_L holding the local factors only. */
export interface LocalParts {
  /** M_b = Z_b'V_L⁻¹Z_b, packed. */
  squares: Float64Array;
  borders: Float64Array;
  /** Z_L'V_L⁻¹r. */
  scores: Float64Array;
}

/** Z'V⁻¹ = Z' - Z'ZΛ(ΛZ'ZΛ+I)⁻¹ΛZ', taken to Z, the border and r, block by block. */
export function localParts(
  s: Structure,
  products: Products,
  scores: ScoreProducts,
  reduction: Reduction,
): LocalParts {
  const { width } = products;
  const out = {
    squares: products.squares.slice(),
    borders: products.borders.slice(),
    scores: scores.locals.slice(),
  };
  for (let b = 0; b + 1 < s.blockStart.length; b++) {
    const start = s.blockStart[b]!;
    const n = s.blockStart[b + 1]! - start;
    const at = s.squareStart[b]!;
    const half = scaledBlock(products.squares, reduction.root, { start, n, at });
    solveLower({ l: reduction.factor, n, at }, half, n);
    subtractProduct(out.squares, at, half, half, n, n, 0);
    subtractProduct(out.borders, start * width, half, reduction.half, n, width, start * width);
    subtractProduct(out.scores, start, half, reduction.halfScores, n, 1, start);
  }
  return out;
}

function scaledBlock(
  squares: Float64Array,
  root: Float64Array,
  { start, n, at }: { start: number; n: number; at: number },
): Float64Array {
  const out = squares.slice(at, at + n * n);
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) out[i * n + j]! *= root[start + i]!;
  return out;
}

/** out -= A'B with A n × n at 0 and B n × width at `bAt`. */
function subtractProduct(
  out: Float64Array,
  outAt: number,
  a: Float64Array,
  b: Float64Array,
  n: number,
  width: number,
  bAt: number,
): void {
  for (let k = 0; k < n; k++)
    for (let i = 0; i < n; i++) {
      const left = a[k * n + i]!;
      if (left === 0) continue;
      const to = outAt + i * width;
      const from = bAt + k * width;
      for (let c = 0; c < width; c++) out[to + c]! -= left * b[from + c]!;
    }
}
