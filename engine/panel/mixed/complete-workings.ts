import { addBorderShare } from './border-shares.ts';
import { identity, inverseFromCholesky, multiply, solveLowerTransposed } from './dense.ts';
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
  const border = completeBorder(s, reduction, width);
  const local = localParts(s, products, scores, reduction);
  const out: Workings = {
    reduction,
    width,
    ...border,
    borders: local.borders,
    scores: residualScores(s, reduction, border, local, width),
    grams: s.factors.map(() => new Float64Array(0)),
    middles: s.factors.flatMap(() => s.factors.map(() => new Float64Array(0))),
    traces: new Float64Array(s.factors.length),
    squares: new Float64Array(s.factors.length ** 2),
    forms: new Float64Array(s.factors.length ** 2),
    lengths: new Float64Array(s.factors.length),
  };
  out.scores.forEach((v, i) => {
    out.lengths[s.factorAt[i]!]! += v * v;
  });
  sumLocals(s, local, out);
  for (let k = 0; k < s.factors.length; k++)
    for (let l = 0; l < s.factors.length; l++) addBorderShare(s, out, k, l);
  return out;
}

function completeBorder(s: Structure, reduction: Reduction, width: number) {
  const { borderFactor, corner } = reduction;
  const scale = Float64Array.from({ length: width }, (_, i) =>
    i < s.globals ? reduction.root[s.locals + i]! : 1,
  );
  const inverse = inverseFromCholesky(borderFactor, width);
  for (let i = 0; i < width; i++)
    for (let j = 0; j < width; j++) inverse[i * width + j]! *= scale[i]! * scale[j]!;
  const coefficients = reduction.borderSolution.slice();
  solveLowerTransposed({ l: borderFactor, n: width, at: 0 }, coefficients, 1);
  for (let i = 0; i < width; i++) coefficients[i]! *= scale[i]!;
  const reach = identity(width);
  multiply(inverse, corner, width).forEach((v, i) => {
    reach[i]! -= v;
  });
  return { inverse, coefficients, reach, globalSquares: multiply(corner, reach, width) };
}

/** Z'P r: local levels, then global ones. */
function residualScores(
  s: Structure,
  reduction: Reduction,
  border: { coefficients: Float64Array },
  local: LocalParts,
  width: number,
): Float64Array {
  const out = new Float64Array(s.locals + s.globals);
  for (let i = 0; i < out.length; i++) {
    const isLocal = i < s.locals;
    const row = isLocal ? i : i - s.locals;
    const matrix = isLocal ? local.borders : reduction.corner;
    let sum = isLocal ? local.scores[row]! : reduction.cornerScores[row]!;
    for (let c = 0; c < width; c++) sum -= matrix[row * width + c]! * border.coefficients[c]!;
    out[i] = sum;
  }
  return out;
}
