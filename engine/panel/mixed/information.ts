import { cholesky, inverseFromCholesky, multiply, multiplyTransposed } from '../../numeric/dense.ts';
import { rowsOf } from './border-shares.ts';
import { fixedBlock, fixedColumns } from './fixed-block.ts';
import type { MixedFit } from './types.ts';
import type { Workings } from './workings.ts';

/**
 * What the data say about the variances, and how the covariance of the coefficients hangs on them. Parameters are
 * the nonzero variances in the order of `active`, then the residual variance; coefficients are those of the
 * orthonormal columns Q (see `solveUpperTransposed`). All is in units of the residual variance.
 */
export interface Information {
  active: readonly number[];
  sigma2: number;
  p: number;
  /** n - p where no variance component is above zero: then it is every combination's degrees of freedom. */
  exactDf: number | null;
  /** (Q'V⁻¹Q)⁻¹, p × p: the covariance of the coefficients over σ². */
  unit: Float64Array;
  /** Derivative of the covariance of the coefficients by each parameter, p × p each. */
  slopes: Float64Array[];
  /** tr(P G_i P G_j), m × m: twice the expected information times σ⁴. */
  expected: Float64Array;
  /** Inverse of the observed information -tr(P G_i P G_j) + 2 r'P G_i P G_j P r/σ²; null if not positive definite. */
  observedInverse: Float64Array | null;
  workings: Workings;
}

const known = new WeakMap<MixedFit, Information>();

/** The information of a fit, made once. Null where no residual variance was estimated. */
export function informationOf(fit: MixedFit): Information | null {
  const stored = known.get(fit);
  if (stored) return stored;
  if (fit.status !== 'estimated' || !fit.workings || fit.sigma2 === null) return null;
  const made = makeInformation(fit, fit.workings, fit.sigma2);
  known.set(fit, made);
  return made;
}

function makeInformation(fit: MixedFit, w: Workings, sigma2: number): Information {
  const { tau } = w.reduction;
  const active = [...tau.keys()].filter((k) => tau[k]! > 0);
  const { p } = fit;
  const unit = fixedBlock(w, p);
  const slopes = active.map((k) => slopeOf(fit, w, k));
  const residual = unit.slice();
  active.forEach((k, i) => {
    for (let at = 0; at < residual.length; at++) residual[at]! -= tau[k]! * slopes[i]![at]!;
  });
  const expected = withResidual(w, active, w.squares, w.traces, fit.n - p);
  const forms = withResidual(w, active, w.forms, w.lengths, sigma2 * (fit.n - p));
  const observed = expected.map((v, at) => -v + (2 * forms[at]!) / sigma2);
  return {
    active,
    sigma2,
    p,
    exactDf: active.length === 0 ? fit.n - p : null,
    unit,
    slopes: [...slopes, residual],
    expected,
    observedInverse: invert(observed, active.length + 1),
    workings: w,
  };
}

function invert(matrix: Float64Array, n: number): Float64Array | null {
  const l = matrix.slice();
  return cholesky(l, n, 0, 1e-12) === null ? null : inverseFromCholesky(l, n);
}

/**
 * Adds the residual to a table over factors: since P V P = P, a product with the identity in place of Z_k Z_k' is
 * what is left of the total once every τ_k times the others is taken off.
 *
 * @param table over pairs of factors
 * @param single over factors, with the identity on one side replaced by V
 * @param total with V on both sides
 */
function withResidual(
  w: Workings,
  active: readonly number[],
  table: Float64Array,
  single: Float64Array,
  total: number,
): Float64Array {
  const count = w.traces.length;
  const { tau } = w.reduction;
  const m = active.length + 1;
  const out = new Float64Array(m * m);
  let corner = total;
  active.forEach((k, i) => {
    let edge = single[k]!;
    active.forEach((l, j) => {
      out[i * m + j] = table[k * count + l]!;
      edge -= tau[l]! * table[k * count + l]!;
    });
    out[i * m + m - 1] = edge;
    out[(m - 1) * m + i] = edge;
    corner -= tau[k]! * (single[k]! + edge);
  });
  out[m * m - 1] = corner;
  return out;
}

/** (Q'V⁻¹Q)⁻¹ Q'V⁻¹Z_k Z_k'V⁻¹Q (Q'V⁻¹Q)⁻¹. */
function slopeOf(fit: MixedFit, w: Workings, k: number): Float64Array {
  const { structure } = fit.prepared;
  const columns = fixedColumns(w, fit.p);
  if (!structure.isGlobal[k])
    return multiplyTransposed(columns, multiply(w.grams[k]!, columns, w.width), w.width);
  const rows = rowsOf(structure, w, multiply(w.reduction.corner, columns, w.width), k);
  return multiplyTransposed(rows, rows, structure.factors[k]!.count);
}
