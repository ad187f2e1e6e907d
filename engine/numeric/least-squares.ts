import { EngineError } from '../errors.ts';
import { identity } from './dense.ts';
import { covarianceOfColumns, orthogonalFactors } from './orthogonal.ts';
import { refinedSolution } from './refinement.ts';

/** Columns whose distance from the span of those before, relative to their own length, is below this are aliased. */
export const RANK_TOLERANCE = 1e-12;

export interface LeastSquares {
  /** One a column, 0 where aliased. */
  coefficients: number[];
  aliased: boolean[];
  rank: number;
  residuals: Float64Array;
  residualSumOfSquares: number;
  /** Diagonal of the hat matrix. */
  leverage: Float64Array;
  /** (X'X)⁻¹ over the columns kept, in their order, row by row. */
  unscaledCovariance: Float64Array;
  /** Indices of the columns kept. */
  kept: number[];
}

/**
 * Least squares by Householder's orthogonal factors of the column-scaled matrix, bettered by iterative
 * refinement with twice the digits; columns that depend on earlier ones are left out, from the last backward.
 *
 * @param x n × p, row by row; p at most n after aliasing. @param y n values.
 */
export function leastSquares(x: Float64Array, y: ArrayLike<number>, p: number): LeastSquares {
  const n = y.length;
  if (x.length !== n * p) throw new EngineError('bad-argument', 'x', x.length, `${n} × ${p} values`);
  const kept = independentColumns(x, n, p);
  const used = takeColumns(x, n, p, kept);
  const m = kept.length;
  const factors = orthogonalFactors(used, n, m);
  const { coefficients: beta, residuals } = refinedSolution(used, y, factors);
  const coefficients = new Array<number>(p).fill(0);
  kept.forEach((column, j) => {
    coefficients[column] = beta[j]!;
  });
  return {
    coefficients,
    aliased: Array.from({ length: p }, (_, j) => !kept.includes(j)),
    rank: m,
    residuals,
    residualSumOfSquares: residuals.reduce((sum, e) => sum + e * e, 0),
    leverage: rowLengths(factors.q, n, m),
    unscaledCovariance: covarianceOfColumns(factors.r, identity(m), 1),
    kept,
  };
}

/**
 * Which columns, taken in order, are linearly independent of those before: modified Gram-Schmidt with
 * reorthogonalisation on columns of unit length, so that no decision depends on units.
 */
export function independentColumns(
  x: Float64Array,
  n: number,
  p: number,
  tolerance = RANK_TOLERANCE,
): number[] {
  const basis: Float64Array[] = [];
  const kept: number[] = [];
  for (let j = 0; j < p && kept.length < n; j++) {
    const column = Float64Array.from({ length: n }, (_, i) => x[i * p + j]!);
    if (scaleToUnit(column) === 0) continue;
    for (let pass = 0; pass < 2; pass++) for (const b of basis) subtractProjection(column, b);
    if (scaleToUnit(column) <= tolerance) continue;
    basis.push(column);
    kept.push(j);
  }
  return kept;
}

function subtractProjection(column: Float64Array, unit: Float64Array): void {
  let dot = 0;
  for (let i = 0; i < column.length; i++) dot += column[i]! * unit[i]!;
  for (let i = 0; i < column.length; i++) column[i] = column[i]! - dot * unit[i]!;
}

function scaleToUnit(column: Float64Array): number {
  const largest = column.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
  if (largest === 0) return 0;
  const length = largest * Math.sqrt(column.reduce((sum, v) => sum + (v / largest) ** 2, 0));
  for (let i = 0; i < column.length; i++) column[i] = column[i]! / length;
  return length;
}

function takeColumns(x: Float64Array, n: number, p: number, columns: readonly number[]): Float64Array {
  const out = new Float64Array(n * columns.length);
  for (let i = 0; i < n; i++)
    columns.forEach((c, j) => {
      out[i * columns.length + j] = x[i * p + c]!;
    });
  return out;
}

function rowLengths(q: Float64Array, n: number, m: number): Float64Array {
  return Float64Array.from({ length: n }, (_, i) => {
    let sum = 0;
    for (let j = 0; j < m; j++) sum += q[i * m + j]! ** 2;
    return sum;
  });
}
