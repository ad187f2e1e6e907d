import { exactDot } from './exact-dot.ts';
import { type OrthogonalFactors, solveUpper, solveUpperTransposed } from './orthogonal.ts';

export interface Solution {
  coefficients: Float64Array;
  residuals: Float64Array;
}

const MOST_PASSES = 4;

/**
 * Least squares y ≈ X b from the orthogonal factors of X, bettered until it no longer moves: coefficients and residuals
 * together solve r + X b = y, X'r = 0, whose errors are taken with twice the digits (Björck 1967, BIT 7, 257-278). With
 * dr = Q u + (I - QQ') f the corrections are u = R⁻ᵀ g and db = R⁻¹ (Q'f - u).
 *
 * @param x n × m, row by row, the matrix that was factored
 */
export function refinedSolution(x: Float64Array, y: ArrayLike<number>, factors: OrthogonalFactors): Solution {
  const { n, p } = factors;
  const now: Solution = { coefficients: new Float64Array(p), residuals: new Float64Array(n) };
  let before = Infinity;
  for (let pass = 0; pass <= MOST_PASSES; pass++) {
    const { coefficients, residuals } = correction(x, y, factors, now);
    const size = relativeSize(coefficients, now.coefficients);
    if (pass > 1 && !(size < before / 2)) break;
    before = pass === 0 ? Infinity : size;
    for (let j = 0; j < p; j++) now.coefficients[j]! += coefficients[j]!;
    for (let i = 0; i < n; i++) now.residuals[i]! += residuals[i]!;
    if (pass > 0 && size < Number.EPSILON) break;
  }
  return now;
}

function correction(
  x: Float64Array,
  y: ArrayLike<number>,
  { q, r, n, p }: OrthogonalFactors,
  now: Solution,
): Solution {
  const f = new Float64Array(n);
  const b = { values: now.coefficients.map((v) => -v), at: 0, step: 1 };
  for (let i = 0; i < n; i++)
    f[i] = exactDot(y[i]!, { values: x, at: i * p, step: 1 }, b, p) - now.residuals[i]!;
  const g = new Float64Array(p);
  const e = { values: now.residuals, at: 0, step: 1 };
  for (let j = 0; j < p; j++) g[j] = -exactDot(0, { values: x, at: j, step: p }, e, n);
  const along = new Float64Array(p);
  for (let i = 0; i < n; i++) for (let j = 0; j < p; j++) along[j]! += q[i * p + j]! * f[i]!;
  const u = solveUpperTransposed(r, g);
  const residuals = f.map((v, i) => {
    let sum = v;
    for (let j = 0; j < p; j++) sum += q[i * p + j]! * (u[j]! - along[j]!);
    return sum;
  });
  return {
    coefficients: solveUpper(
      r,
      along.map((v, j) => v - u[j]!),
    ),
    residuals,
  };
}

function relativeSize(step: Float64Array, at: Float64Array): number {
  let most = 0;
  for (let j = 0; j < step.length; j++) if (at[j] !== 0) most = Math.max(most, Math.abs(step[j]! / at[j]!));
  return most;
}
