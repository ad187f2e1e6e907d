import { EngineError } from '../../errors.ts';
import { dot } from '../../numeric/dense.ts';
import { DEPENDENT } from './prepare.ts';

/**
 * The columns that do not depend on those kept before them, first come first kept: what is left of a matrix whose
 * columns may be aliased. Distances are relative to each column's own length, after two passes of orthogonalisation.
 *
 * @param x n × p, row by row
 * @returns indices of the kept columns, ascending
 */
export function independentColumns(x: Float64Array, p: number): number[] {
  const n = x.length / p;
  if (!Number.isInteger(n)) throw new EngineError('bad-argument', 'x', x.length, `a multiple of ${p}`);
  const kept: number[] = [];
  const basis: Float64Array[] = [];
  for (let j = 0; j < p && basis.length < n; j++) {
    const column = unit(Float64Array.from({ length: n }, (_, i) => x[i * p + j]!));
    if (!column) continue;
    for (let pass = 0; pass < 2; pass++) for (const b of basis) removeAlong(column, b);
    const left = Math.sqrt(dot(column, column));
    if (!(left > DEPENDENT)) continue;
    basis.push(column.map((v) => v / left));
    kept.push(j);
  }
  return kept;
}

function unit(column: Float64Array): Float64Array | null {
  const largest = column.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
  if (largest === 0) return null;
  const scaled = column.map((v) => v / largest);
  const length = Math.sqrt(dot(scaled, scaled));
  return scaled.map((v) => v / length);
}

function removeAlong(column: Float64Array, direction: Float64Array): void {
  const along = dot(column, direction);
  for (let i = 0; i < column.length; i++) column[i]! -= along * direction[i]!;
}
