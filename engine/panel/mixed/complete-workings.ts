import { inverseFromCholesky, multiply, solveLowerTransposed } from '../../numeric/dense.ts';
import { addBorderShares } from './border-shares.ts';
import { type LocalParts, localParts } from './local-parts.ts';
import { sumLocals } from './local-sums.ts';
import type { Products, ScoreProducts } from './products.ts';
import type { Reduction } from './reduction.ts';
import type { Structure } from './structure.ts';
import type { Workings } from './workings.ts';

/** Completes a reduction. */
export function completeWorkings(
  s: Structure,
  products: Products,
  scores: ScoreProducts,
  reduction: Reduction,
): Workings {
  const { width } = products;
  const border = completeBorder(reduction, width, s.globals);
  const local = localParts(s, products, scores, reduction);
  const out: Workings = {
    reduction,
    width,
    ...border,
    borders: local.borders,
    scores: residualScores(s, products, reduction, border.coefficients, local),
    grams: s.factors.map(() => new Float64Array(0)),
    middles: s.factors.flatMap(() => s.factors.map(() => new Float64Array(0))),
    traces: new Float64Array(s.factors.length),
    squares: new Float64Array(s.factors.length ** 2),
    forms: new Float64Array(s.factors.length ** 2),
    pulls: s.factors.map(() => new Float64Array(0)),
    lengths: new Float64Array(s.factors.length),
  };
  out.scores.forEach((v, i) => {
    out.lengths[s.factorAt[i]!]! += v * v;
  });
  sumLocals(s, products, local, out);
  addBorderShares(s, products, out);
  return out;
}

function completeBorder(reduction: Reduction, width: number, globals: number) {
  const { borderFactor, borderRoot: scale, corner } = reduction;
  const inverse = inverseFromCholesky(borderFactor, width);
  for (let i = 0; i < width; i++)
    for (let j = 0; j < width; j++) inverse[i * width + j]! *= scale[i]! * scale[j]!;
  const coefficients = reduction.borderSolution.slice();
  solveLowerTransposed({ l: borderFactor, n: width, at: 0 }, coefficients, 1);
  for (let i = 0; i < width; i++) coefficients[i]! *= scale[i]!;
  const reach = multiply(inverse, leftColumns(corner, width, globals), width).map((v) => -v);
  for (let i = 0; i < globals; i++) reach[i * globals + i]! += 1;
  return { inverse, coefficients, reach, globalSquares: multiply(corner, reach, width) };
}

/** The first columns of a width × width matrix. */
function leftColumns(matrix: Float64Array, width: number, count: number): Float64Array {
  const out = new Float64Array(width * count);
  for (let i = 0; i < width; i++) out.set(matrix.subarray(i * width, i * width + count), i * count);
  return out;
}

/** Z'P r: local levels, then global ones. */
function residualScores(
  s: Structure,
  products: Products,
  reduction: Reduction,
  coefficients: Float64Array,
  local: LocalParts,
): Float64Array {
  const out = new Float64Array(s.locals + s.globals);
  const explained = multiply(local.borders, coefficients, products.width);
  products.typeOf.forEach((t, b) => {
    const shift = products.rowStart[t]! - s.blockStart[b]!;
    for (let i = s.blockStart[b]!; i < s.blockStart[b + 1]!; i++)
      out[i] = local.scores[i]! - explained[i + shift]!;
  });
  const explainedCorner = multiply(reduction.corner, coefficients, products.width);
  for (let i = 0; i < s.globals; i++) out[s.locals + i] = reduction.cornerScores[i]! - explainedCorner[i]!;
  return out;
}
