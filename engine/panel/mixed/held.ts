import { EngineError } from '../../errors.ts';
import { cholesky, inverseFromCholesky, multiply, solveLowerTransposed } from '../../numeric/dense.ts';
import { covarianceOfColumns, solveUpper } from '../../numeric/orthogonal.ts';
import { gatherProducts, gatherScores, type Products } from './products.ts';
import { type Reduction, reduceAt } from './reduction.ts';
import type { Structure } from './structure.ts';
import type { HeldFit, MixedFit } from './types.ts';

/** Kept rows in which an orthonormal column keeps less than this of its squared length cannot tell it. */
const GONE = 1e-9;
const CANNOT_TELL = 'the rows left cannot tell every coefficient';

/**
 * Generalised least squares on some of the rows with the variances of `fit` held: what is needed to leave out one
 * mix after another without estimating variances anew.
 *
 * @param keep n marks; rows whose mark is falsy are left out
 * @returns coefficients, their covariance and the conditional modes given the kept rows; null with a reason where
 *   those rows cannot tell every coefficient
 */
export function fixedWithVariancesHeld(fit: MixedFit, keep: ArrayLike<unknown>): HeldFit {
  if (keep.length !== fit.n) throw new EngineError('bad-argument', 'keep', keep.length, `${fit.n} marks`);
  if (!fit.workings || fit.sigma2 === null) return without(fit.reason ?? 'nothing was estimated');
  const { structure, orthogonal } = fit.prepared;
  const { q, r, p } = orthogonal;
  const products = gatherProducts(structure, q, p, keep);
  if (!tellsAll(products, p)) return without(CANNOT_TELL);
  const scores = gatherScores(structure, q, beyondFixed(fit), keep);
  const reduction = reduceAt(structure, products, scores, fit.workings.reduction.tau);
  if (!reduction) return without(CANNOT_TELL);
  const solution = solveBorder(reduction, products.width);
  const shift = solveUpper(r, solution.subarray(structure.globals));
  return {
    beta: fit.beta.map((v, j) => v + shift[j]!),
    covariance: covarianceOfColumns(r, fixedInverse(reduction, products.width, p), fit.sigma2),
    effects: modesOf(structure, products, reduction, solution),
    reason: null,
  };
}

function without(reason: string): HeldFit {
  return { beta: null, covariance: null, effects: null, reason };
}

/** Whether Q'Q over the kept rows is positive definite; Q being orthonormal over all rows, 1 is its scale. */
function tellsAll({ corner, width }: Products, p: number): boolean {
  const gram = new Float64Array(p * p);
  const first = width - p;
  for (let i = 0; i < p; i++)
    for (let j = 0; j < p; j++) gram[i * p + j] = corner[(first + i) * width + first + j]!;
  const diagonal = Array.from({ length: p }, (_, i) => gram[i * p + i]!);
  if (cholesky(gram, p) === null) return false;
  return diagonal.every((v, i) => v > GONE && gram[i * p + i]! ** 2 > GONE);
}

/** y - Xβ̂, so that what is solved for is the small change of β. */
function beyondFixed(fit: MixedFit): Float64Array {
  const out = fit.residuals.slice();
  for (const f of fit.prepared.random)
    for (let i = 0; i < out.length; i++) out[i]! += fit.effects[f.name]![f.levels[i]!]!;
  return out;
}

/** Conditional modes of global levels, then coefficients of Q. */
function solveBorder(reduction: Reduction, width: number): Float64Array {
  const out = reduction.borderSolution.slice();
  solveLowerTransposed({ l: reduction.borderFactor, n: width, at: 0 }, out, 1);
  for (let i = 0; i < width; i++) out[i]! *= reduction.borderRoot[i]!;
  return out;
}

/** (Q'V⁻¹Q)⁻¹ from the lower right of the border's factor. */
function fixedInverse(reduction: Reduction, width: number, p: number): Float64Array {
  const l = new Float64Array(p * p);
  const first = width - p;
  for (let i = 0; i < p; i++)
    for (let j = 0; j <= i; j++) l[i * p + j] = reduction.borderFactor[(first + i) * width + first + j]!;
  return inverseFromCholesky(l, p);
}

/** Local levels by back substitution, Λ L⁻ᵀ (L⁻¹ΛZ'r - L⁻¹ΛZ'[Z_G Q] c); global ones stand in the solution. */
function modesOf(s: Structure, products: Products, reduction: Reduction, solution: Float64Array) {
  const local = reduction.halfScores.slice();
  const explained = multiply(reduction.half, solution, products.width);
  for (let i = 0; i < s.locals; i++) local[i]! -= explained[products.typeRow[i]!]!;
  products.typeOf.forEach((t, b) => {
    const start = s.blockStart[b]!;
    const triangle = { l: reduction.factor, n: s.blockStart[b + 1]! - start, at: products.squareStart[t]! };
    solveLowerTransposed(triangle, local, 1, start);
  });
  const modes = s.factors.map((f, k) => [
    f.name,
    Float64Array.from(s.place[k]!, (at) =>
      at < s.locals ? reduction.root[k]! * local[at]! : solution[at - s.locals]!,
    ),
  ]);
  return Object.fromEntries(modes) as Record<string, Float64Array>;
}
