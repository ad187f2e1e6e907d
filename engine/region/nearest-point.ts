import { innerProduct } from '../numeric/dense.ts';
import { leastSquares } from '../numeric/least-squares.ts';
import { spanOf } from './affine-hull.ts';
import type { Region } from './region.ts';

/**
 * The allowed mix nearest to given shares, differences counted against each component's own range (components
 * that cannot vary count for nothing). Least-distance programming: with z the coordinates along orthonormal
 * directions of the hull, minimise |z - z₀| subject to G z + h ≥ 0, solved as non-negative least squares in the
 * multipliers (Lawson and Hanson 1974, chapter 23).
 *
 * @param shares any numbers, one a component; they need not sum to 1.
 */
export function nearestPoint(region: Region, shares: readonly number[]): number[] {
  const width = region.high.map((h, i) => h - region.low[i]!);
  const scaled = region.frame.map((direction) =>
    direction.map((v, i) => (width[i]! > 0 ? v / width[i]! : 0)),
  );
  const basis = spanOf(scaled);
  const offset = shares.map((s, i) => (width[i]! > 0 ? (s - region.inner[i]!) / width[i]! : 0));
  const start = basis.map((b) => innerProduct(b, offset));
  const rows = region.facets.map(({ limit, range }) => {
    const slope = basis.map(
      (b) => limit.coefficients.reduce((sum, c, i) => sum + c * width[i]! * b[i]!, 0) / range,
    );
    const slack = (innerProduct(limit.coefficients, region.inner) - limit.at) / range;
    return { slope, least: -(slack + innerProduct(slope, start)) };
  });
  const move = leastDistance(rows, basis.length);
  const z = start.map((v, k) => v + move[k]!);
  const point = region.inner.map(
    (c, i) => c + width[i]! * basis.reduce((sum, b, k) => sum + b[i]! * z[k]!, 0),
  );
  return point.map((v, i) => Math.min(region.high[i]!, Math.max(region.low[i]!, v)));
}

/** The shortest v with slope·v ≥ least for every row. */
function leastDistance(
  rows: readonly { slope: readonly number[]; least: number }[],
  dimension: number,
): number[] {
  if (rows.every(({ least }) => least <= 0)) return new Array<number>(dimension).fill(0);
  const columns = rows.map(({ slope, least }) => [...slope, least]);
  const target = [...new Array<number>(dimension).fill(0), 1];
  const u = nonNegativeLeastSquares(columns, target);
  const residual = target.map((t, k) => columns.reduce((sum, column, j) => sum + column[k]! * u[j]!, 0) - t);
  const last = residual[dimension]!;
  return residual.slice(0, dimension).map((r) => -r / last);
}

/** u ≥ 0 with Σ uⱼ columnⱼ nearest to the target (Lawson and Hanson 1974, algorithm NNLS). */
function nonNegativeLeastSquares(columns: readonly number[][], target: readonly number[]): number[] {
  let u = columns.map(() => 0);
  const passive = new Set<number>();
  for (let round = 0; round < 20 * columns.length + 20; round++) {
    const rest = target.map((t, k) => t - columns.reduce((sum, column, j) => sum + column[k]! * u[j]!, 0));
    const pull = columns.map((column, j) =>
      passive.has(j) ? -1 : innerProduct(column, rest) / Math.sqrt(innerProduct(column, column)),
    );
    const next = pull.indexOf(Math.max(...pull));
    if (pull[next]! <= 1e-12) return u;
    passive.add(next);
    u = settle(columns, target, passive, u);
  }
  return u;
}

/** Least squares on the passive columns, giving up those that would turn negative. */
function settle(
  columns: readonly number[][],
  target: readonly number[],
  passive: Set<number>,
  before: readonly number[],
): number[] {
  let u = [...before];
  for (;;) {
    const chosen = [...passive].sort((a, b) => a - b);
    const x = new Float64Array(target.length * chosen.length);
    for (let k = 0; k < target.length; k++)
      chosen.forEach((j, c) => {
        x[k * chosen.length + c] = columns[j]![k]!;
      });
    const { coefficients } = leastSquares(x, target, chosen.length);
    const wanted = columns.map((_, j) => (passive.has(j) ? coefficients[chosen.indexOf(j)]! : 0));
    if (chosen.every((j) => wanted[j]! > 0)) return wanted;
    const step = Math.min(
      1,
      ...chosen.filter((j) => wanted[j]! <= 0).map((j) => u[j]! / Math.max(u[j]! - wanted[j]!, 1e-300)),
    );
    u = u.map((v, j) => v + step * (wanted[j]! - v));
    for (const j of chosen) if (u[j]! <= 1e-14 && wanted[j]! <= 0) passive.delete(j);
    if (passive.size === 0) return u.map(() => 0);
  }
}
