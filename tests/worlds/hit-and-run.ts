import type { BlendSpace } from '../../engine/region/blend-space.ts';
import type { NamedStream } from '../../trials/demo/named-stream.ts';

/** `row`·x ≤ `limit` for every row: a space's shares written as half-spaces. */
export interface HalfSpaces {
  rows: number[][];
  limits: number[];
}

/** A blend space's component limits and bounds as half-spaces over the shares. */
export function halfSpacesOf(space: Pick<BlendSpace, 'components' | 'bounds'>): HalfSpaces {
  const found: HalfSpaces = { rows: [], limits: [] };
  const add = (row: number[], limit: number) => {
    found.rows.push(row);
    found.limits.push(limit);
  };
  space.components.forEach(({ low, high }, i) => {
    const unit = space.components.map((_, j) => (i === j ? 1 : 0));
    add(unit, high);
    add(
      unit.map((u) => -u),
      -low,
    );
  });
  for (const { of, least, most } of space.bounds) {
    const row = space.components.map(({ id }) => of[id] ?? 0);
    if (most !== undefined) add(row, most);
    if (least !== undefined)
      add(
        row.map((r) => -r),
        -least,
      );
  }
  return found;
}

/**
 * Points nearly uniform over { x : Σx = 1, rows·x ≤ limits }, by hit-and-run (Smith 1984) with thinning.
 * @param start a point inside
 */
export function hitAndRun(
  space: HalfSpaces,
  start: readonly number[],
  count: number,
  stream: NamedStream,
): number[][] {
  const at = [...start];
  const thinning = 3 * start.length;
  return Array.from({ length: count }, () => {
    for (let t = 0; t < thinning; t++) step(space, at, stream);
    return [...at];
  });
}

function step(space: HalfSpaces, at: number[], stream: NamedStream): void {
  const direction = at.map(() => stream.normal(1));
  const mean = direction.reduce((a, b) => a + b, 0) / at.length;
  for (let i = 0; i < direction.length; i++) direction[i]! -= mean;
  const [back, forth] = chord(space, at, direction);
  const by = back + (forth - back) * stream.uniform();
  for (let i = 0; i < at.length; i++) at[i]! += by * direction[i]!;
}

/** How far one may go from `at` along `direction`, backwards and forwards. */
export function chord(
  space: HalfSpaces,
  at: readonly number[],
  direction: readonly number[],
): [number, number] {
  let back = Number.NEGATIVE_INFINITY;
  let forth = Number.POSITIVE_INFINITY;
  space.rows.forEach((row, r) => {
    const speed = dot(row, direction);
    const room = Math.max(0, space.limits[r]! - dot(row, at));
    if (speed > 1e-14) forth = Math.min(forth, room / speed);
    if (speed < -1e-14) back = Math.max(back, room / speed);
  });
  return [back, forth];
}

function dot(a: readonly number[], b: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
