import { solveLower } from '../../numeric/dense.ts';
import type { Products, ScoreProducts } from './products.ts';
import type { Reduction } from './reduction.ts';
import type { Structure } from './structure.ts';

/** The local levels seen through V_L⁻¹, V_L holding the local factors only. */
export interface LocalParts {
  /** M = Z'V_L⁻¹Z of each type, packed. */
  squares: Float64Array;
  /** U = Z_L'V_L⁻¹[Z_G Q] by type row. */
  borders: Float64Array;
  /** Z_L'V_L⁻¹r by position. */
  scores: Float64Array;
}

/** Z'V⁻¹ = Z' - Z'ZΛ(ΛZ'ZΛ+I)⁻¹ΛZ', taken to Z, the border and r. */
export function localParts(
  s: Structure,
  products: Products,
  scores: ScoreProducts,
  reduction: Reduction,
): LocalParts {
  const { width, rowStart, squareStart } = products;
  const squares = products.squares.slice();
  const borders = products.borders.slice();
  const half = scaledRows(products, reduction.root);
  for (let t = 0; t + 1 < rowStart.length; t++) {
    const n = rowStart[t + 1]! - rowStart[t]!;
    const at = squareStart[t]!;
    const own = half.subarray(at, at + n * n);
    solveLower({ l: reduction.factor, n, at }, own, n);
    subtractProduct({ to: squares, toAt: at, left: own, from: own, fromAt: 0, n, width: n });
    const border = rowStart[t]! * width;
    subtractProduct({ to: borders, toAt: border, left: own, from: reduction.half, fromAt: border, n, width });
  }
  const seen = scores.locals.slice();
  products.typeOf.forEach((t, b) => {
    const start = s.blockStart[b]!;
    const n = s.blockStart[b + 1]! - start;
    const own = half.subarray(squareStart[t]!, squareStart[t]! + n * n);
    subtractProduct({
      to: seen,
      toAt: start,
      left: own,
      from: reduction.halfScores,
      fromAt: start,
      n,
      width: 1,
    });
  });
  return { squares, borders, scores: seen };
}

/** Λ Z'Z of every type. */
function scaledRows(
  { squares, rowStart, squareStart, factorOf }: Products,
  root: Float64Array,
): Float64Array {
  const out = squares.slice();
  for (let t = 0; t + 1 < rowStart.length; t++) {
    const start = rowStart[t]!;
    const n = rowStart[t + 1]! - start;
    for (let i = 0; i < n; i++) {
      const scale = root[factorOf[start + i]!]!;
      for (let j = 0; j < n; j++) out[squareStart[t]! + i * n + j]! *= scale;
    }
  }
  return out;
}

interface Product {
  to: Float64Array;
  toAt: number;
  left: Float64Array;
  from: Float64Array;
  fromAt: number;
  n: number;
  width: number;
}

/** to -= left' from, with left n × n and the others n × width. */
function subtractProduct({ to, toAt, left, from, fromAt, n, width }: Product): void {
  for (let k = 0; k < n; k++)
    for (let i = 0; i < n; i++) {
      const factor = left[k * n + i]!;
      if (factor === 0) continue;
      const row = toAt + i * width;
      const source = fromAt + k * width;
      for (let c = 0; c < width; c++) to[row + c]! -= factor * from[source + c]!;
    }
}
