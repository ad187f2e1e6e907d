import { cholesky, solveLower } from './dense.ts';
import type { Products, ScoreProducts } from './products.ts';
import type { Structure } from './structure.ts';

/**
 * The model at given variance ratios τ_k = σ_k²/σ², with V = I + Σ τ_k Z_k Z_k' and Λ = √τ, after the local
 * levels have been eliminated block by block and the border [Z_G Q] has been factorised.
 */
export interface Reduction {
  tau: Float64Array;
  /** √τ of each position. */
  root: Float64Array;
  /** Cholesky factors L_b of Λ Z_b'Z_b Λ + I, packed. */
  factor: Float64Array;
  /** L⁻¹ Λ Z_L'[Z_G Q] and L⁻¹ Λ Z_L'r. */
  half: Float64Array;
  halfScores: Float64Array;
  /** S = [Z_G Q]'V_L⁻¹[Z_G Q] and [Z_G Q]'V_L⁻¹r, V_L holding the local factors only. */
  corner: Float64Array;
  cornerScores: Float64Array;
  /** Cholesky factor of Λ̃ S Λ̃ + diag(I, 0), Λ̃ being √τ on global levels and 1 on fixed columns. */
  borderFactor: Float64Array;
  /** Solution for [global levels, fixed columns], still multiplied by Λ̃⁻¹. */
  borderSolution: Float64Array;
  /** log det V + log det Q'V⁻¹Q. */
  logDet: number;
  /** r'P r = r'V⁻¹r - r'V⁻¹Q(Q'V⁻¹Q)⁻¹Q'V⁻¹r. */
  square: number;
}

/**
 * Eliminates at the ratios `tau`. Null where Q'V⁻¹Q is singular (rows were left out) or the ratios are beyond
 * arithmetic. A pivot of the border below `least` of its diagonal counts as singular.
 */
export function reduceAt(
  s: Structure,
  products: Products,
  scores: ScoreProducts,
  tau: Float64Array,
  least = 1e-14,
): Reduction | null {
  const root = Float64Array.from(s.factorAt, (k) => Math.sqrt(tau[k]!));
  const local = eliminateLocals(s, products, scores, root);
  if (!local) return null;
  const { width } = products;
  const borderRoot = Float64Array.from({ length: width }, (_, i) =>
    i < s.globals ? root[s.locals + i]! : 1,
  );
  const borderFactor = new Float64Array(width * width);
  for (let i = 0; i < width; i++) {
    for (let j = 0; j < width; j++)
      borderFactor[i * width + j] = borderRoot[i]! * local.corner[i * width + j]! * borderRoot[j]!;
    if (i < s.globals) borderFactor[i * width + i]! += 1;
  }
  const logDetBorder = cholesky(borderFactor, width, 0, least);
  if (logDetBorder === null) return null;
  const solution = local.cornerScores.map((v, i) => v * borderRoot[i]!);
  solveLower({ l: borderFactor, n: width, at: 0 }, solution, 1);
  let square = local.square;
  for (const v of solution) square -= v * v;
  const logDet = local.logDet + logDetBorder;
  return { tau, root, ...local, borderFactor, borderSolution: solution, logDet, square };
}

function eliminateLocals(s: Structure, products: Products, scores: ScoreProducts, root: Float64Array) {
  const { width } = products;
  const factor = scaledSquares(s, products, root);
  const half = products.borders.slice();
  const halfScores = scores.locals.slice();
  for (let i = 0; i < s.locals; i++) {
    halfScores[i]! *= root[i]!;
    for (let c = 0; c < width; c++) half[i * width + c]! *= root[i]!;
  }
  let logDet = 0;
  for (let b = 0; b + 1 < s.blockStart.length; b++) {
    const start = s.blockStart[b]!;
    const triangle = { l: factor, n: s.blockStart[b + 1]! - start, at: s.squareStart[b]! };
    const blockLogDet = cholesky(factor, triangle.n, triangle.at);
    if (blockLogDet === null) return null;
    logDet += blockLogDet;
    solveLower(triangle, half, width, start * width);
    solveLower(triangle, halfScores, 1, start);
  }
  const { corner, cornerScores, square } = complement(s, products, scores, half, halfScores);
  return { factor, half, halfScores, corner, cornerScores, square, logDet };
}

/** Λ Z_b'Z_b Λ + I of every block. */
function scaledSquares(s: Structure, products: Products, root: Float64Array): Float64Array {
  const out = products.squares.slice();
  for (let b = 0; b + 1 < s.blockStart.length; b++) {
    const start = s.blockStart[b]!;
    const size = s.blockStart[b + 1]! - start;
    for (let i = 0; i < size; i++) {
      const at = s.squareStart[b]! + i * size;
      for (let j = 0; j < size; j++) out[at + j]! *= root[start + i]! * root[start + j]!;
      out[at + i]! += 1;
    }
  }
  return out;
}

/** Schur complement of the local levels. */
function complement(
  s: Structure,
  products: Products,
  scores: ScoreProducts,
  half: Float64Array,
  halfScores: Float64Array,
) {
  const { width } = products;
  const corner = products.corner.slice();
  const cornerScores = scores.border.slice();
  let square = scores.square;
  for (let i = 0; i < s.locals; i++) {
    const at = i * width;
    const score = halfScores[i]!;
    square -= score * score;
    for (let a = 0; a < width; a++) {
      const left = half[at + a]!;
      if (left === 0) continue;
      cornerScores[a]! -= left * score;
      for (let b = 0; b <= a; b++) corner[a * width + b]! -= left * half[at + b]!;
    }
  }
  for (let a = 0; a < width; a++) for (let b = 0; b < a; b++) corner[b * width + a] = corner[a * width + b]!;
  return { corner, cornerScores, square };
}
