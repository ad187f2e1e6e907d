import { dot } from '../numeric/dense.ts';
import type { Cups } from './cups.ts';

/** Columns this near to the span of those before tell nothing of their own. */
const ALIASED = 1e-9;

/**
 * Which columns, taken in order, are told neither by the mixes nor by those before them: what is left of a column
 * (brought to unit length) once its mean within each mix and its part along the kept ones are taken off twice is longer
 * than 1e-9. Indicators of mixes share no cup, so that this costs as many steps as there are cups for a column,
 * however many the mixes.
 *
 * @param columns one value a cup each
 * @returns places of the columns that tell something of their own, ascending
 */
export function ownColumns(
  { mixes, mixOf }: Pick<Cups, 'mixes' | 'mixOf'>,
  columns: readonly Float64Array[],
): number[] {
  const basis: Float64Array[] = [];
  return [...columns.keys()].filter((at) => {
    if (mixes.length + basis.length >= mixOf.length) return false;
    const column = toUnit(columns[at]!);
    if (column === null) return false;
    for (let pass = 0; pass < 2; pass++) {
      centreWithin(column, mixOf, mixes.length);
      for (const b of basis) removeAlong(column, b);
    }
    const left = Math.sqrt(dot(column, column));
    if (!(left > ALIASED)) return false;
    basis.push(column.map((v) => v / left));
    return true;
  });
}

function toUnit(column: Float64Array): Float64Array | null {
  const largest = column.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
  if (!(largest > 0)) return null;
  const scaled = column.map((v) => v / largest);
  const length = Math.sqrt(dot(scaled, scaled));
  return scaled.map((v) => v / length);
}

function centreWithin(column: Float64Array, groupOf: Int32Array, groups: number): void {
  const sums = new Float64Array(groups);
  const counts = new Float64Array(groups);
  for (let i = 0; i < column.length; i++) {
    sums[groupOf[i]!]! += column[i]!;
    counts[groupOf[i]!]! += 1;
  }
  for (let i = 0; i < column.length; i++) column[i]! -= sums[groupOf[i]!]! / counts[groupOf[i]!]!;
}

function removeAlong(column: Float64Array, direction: Float64Array): void {
  const along = dot(column, direction);
  for (let i = 0; i < column.length; i++) column[i]! -= along * direction[i]!;
}
