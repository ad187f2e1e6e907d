import { cholesky, solveLower } from '../../numeric/dense.ts';
import type { Products, ScoreProducts } from './products.ts';
import type { Structure } from './structure.ts';

/**
 * The model at given variance ratios τ_k = σ_k²/σ², with V = I + Σ τ_k Z_k Z_k' and Λ = √τ, after the local
 * levels have been eliminated block by block and the border [Z_G Q] has been factorised.
 */
export interface Reduction {
  tau: Float64Array;
  /** √τ of each factor. */
  root: Float64Array;
  /** Cholesky factors L of Λ Z'Z Λ + I of each block type, packed. */
  factor: Float64Array;
  /** L⁻¹ Λ Z_L'[Z_G Q] by type row, and L⁻¹ Λ Z_L'r by position. */
  half: Float64Array;
  halfScores: Float64Array;
  /** S = [Z_G Q]'V_L⁻¹[Z_G Q] and [Z_G Q]'V_L⁻¹r, V_L holding the local factors only. */
  corner: Float64Array;
  cornerScores: Float64Array;
  /** Λ̃: √τ on global levels and 1 on fixed columns. */
  borderRoot: Float64Array;
  /** Cholesky factor of Λ̃ S Λ̃ + diag(I, 0). */
  borderFactor: Float64Array;
  /** The border's factor solved for Λ̃ [Z_G Q]'V_L⁻¹r. */
  borderSolution: Float64Array;
  /** log det V + log det Q'V⁻¹Q. */
  logDet: number;
  /** r'P r = r'V⁻¹r - r'V⁻¹Q(Q'V⁻¹Q)⁻¹Q'V⁻¹r. */
  square: number;
}

/**
 * Eliminates at the ratios `tau`. Null where Q'V⁻¹Q is singular (rows were left out) or the ratios are beyond
 * arithmetic.
 */
export function reduceAt(
  s: Structure,
  products: Products,
  scores: ScoreProducts,
  tau: Float64Array,
): Reduction | null {
  const root = tau.map(Math.sqrt);
  const local = eliminateLocals(s, products, scores, root);
  if (!local) return null;
  const { width } = products;
  const borderRoot = new Float64Array(width).fill(1);
  for (let i = 0; i < s.globals; i++) borderRoot[i] = root[s.factorAt[s.locals + i]!]!;
  const borderFactor = new Float64Array(width * width);
  for (let i = 0; i < width; i++) {
    for (let j = 0; j < width; j++)
      borderFactor[i * width + j] = borderRoot[i]! * local.corner[i * width + j]! * borderRoot[j]!;
    if (i < s.globals) borderFactor[i * width + i]! += 1;
  }
  const logDetBorder = cholesky(borderFactor, width);
  if (logDetBorder === null) return null;
  const solution = local.cornerScores.map((v, i) => v * borderRoot[i]!);
  solveLower({ l: borderFactor, n: width, at: 0 }, solution, 1);
  let { square } = local;
  for (const v of solution) square -= v * v;
  const logDet = local.logDet + logDetBorder;
  return { tau, root, ...local, borderRoot, borderFactor, borderSolution: solution, logDet, square };
}

function eliminateLocals(s: Structure, products: Products, scores: ScoreProducts, root: Float64Array) {
  const { width, rowStart, squareStart, factorOf } = products;
  const factor = scaledSquares(products, root);
  const half = products.borders.slice();
  factorOf.forEach((k, row) => {
    for (let c = 0; c < width; c++) half[row * width + c]! *= root[k]!;
  });
  let logDet = 0;
  for (let t = 0; t + 1 < rowStart.length; t++) {
    const triangle = { l: factor, n: rowStart[t + 1]! - rowStart[t]!, at: squareStart[t]! };
    const typeLogDet = cholesky(factor, triangle.n, triangle.at);
    if (typeLogDet === null) return null;
    logDet += products.share[t]! * typeLogDet;
    solveLower(triangle, half, width, rowStart[t]! * width);
  }
  const { halfScores, sums } = solveScores(s, products, scores, root, factor);
  const { corner, cornerScores } = complement(products, scores, half, sums);
  let { square } = scores;
  for (const v of halfScores) square -= v * v;
  return { factor, half, halfScores, corner, cornerScores, square, logDet };
}

/** Λ Z'Z Λ + I of every type. */
function scaledSquares(
  { squares, rowStart, squareStart, factorOf }: Products,
  root: Float64Array,
): Float64Array {
  const out = squares.slice();
  for (let t = 0; t + 1 < rowStart.length; t++) {
    const start = rowStart[t]!;
    const size = rowStart[t + 1]! - start;
    for (let i = 0; i < size; i++) {
      const at = squareStart[t]! + i * size;
      const left = root[factorOf[start + i]!]!;
      for (let j = 0; j < size; j++) out[at + j]! *= left * root[factorOf[start + j]!]!;
      out[at + i]! += 1;
    }
  }
  return out;
}

/** L⁻¹ Λ Z_L'r of every block, and its sum over the blocks of each type. */
function solveScores(
  s: Structure,
  { typeOf, rowStart, squareStart }: Products,
  scores: ScoreProducts,
  root: Float64Array,
  factor: Float64Array,
) {
  const halfScores = scores.locals.map((v, i) => v * root[s.factorAt[i]!]!);
  const sums = new Float64Array(rowStart.at(-1)!);
  typeOf.forEach((t, b) => {
    const start = s.blockStart[b]!;
    const n = s.blockStart[b + 1]! - start;
    solveLower({ l: factor, n, at: squareStart[t]! }, halfScores, 1, start);
    for (let i = 0; i < n; i++) sums[rowStart[t]! + i]! += halfScores[start + i]!;
  });
  return { halfScores, sums };
}

/** Schur complement of the local levels. */
function complement(
  { width, corner: whole, rowStart, share }: Products,
  scores: ScoreProducts,
  half: Float64Array,
  sums: Float64Array,
) {
  const corner = whole.slice();
  const cornerScores = scores.border.slice();
  for (let t = 0; t + 1 < rowStart.length; t++)
    for (let row = rowStart[t]!; row < rowStart[t + 1]!; row++) {
      const at = row * width;
      for (let a = 0; a < width; a++) {
        const left = half[at + a]!;
        if (left === 0) continue;
        cornerScores[a]! -= left * sums[row]!;
        const weighted = left * share[t]!;
        for (let b = 0; b <= a; b++) corner[a * width + b]! -= weighted * half[at + b]!;
      }
    }
  for (let a = 0; a < width; a++) for (let b = 0; b < a; b++) corner[b * width + a] = corner[a * width + b]!;
  return { corner, cornerScores };
}
