import { complementOf } from '../region/affine-hull.ts';
import type { BlendSpace } from '../region/blend-space.ts';
import type { RegionWidths } from './fit-types.ts';

const PRIMES = [2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41, 43, 47, 53];
/** Shares and bounds closer than this are equal. */
const EQUAL = 1e-12;

/**
 * Points spread over the flat in which the region lies (not only over the region, so that a narrow one does not
 * cost digits), with coded settings. A polynomial that vanishes on all of these vanishes on the region, and the
 * other way round. Halton's sequence, so that the same space always gives the same points.
 */
export function spreadPoints(
  space: BlendSpace,
  region: RegionWidths,
  count: number,
): { shares: number[]; coded: number[] }[] {
  const basis = directionsOf(space, region);
  const moving = space.settings.map(({ low, high }) => high > low);
  return Array.from({ length: count }, (_, i) => {
    const at = (d: number) => 2 * radicalInverse(i + 1, PRIMES[d % PRIMES.length]!) - 1;
    const shares = [...region.centroid];
    basis.forEach((direction, d) => {
      direction.forEach((v, c) => {
        shares[c] = shares[c]! + 0.5 * at(d) * v;
      });
    });
    return { shares, coded: moving.map((moves, s) => (moves ? at(basis.length + s) : 0)) };
  });
}

/** Orthonormal directions in which blends of the region can differ. */
function directionsOf(space: BlendSpace, region: RegionWidths): number[][] {
  const q = space.components.length;
  const rows: number[][] = [new Array<number>(q).fill(1)];
  for (let i = 0; i < q; i++)
    if (region.high[i]! - region.low[i]! <= EQUAL) rows.push(space.components.map((_, j) => Number(i === j)));
  for (const { of, least, most } of space.bounds)
    if (least !== undefined && most !== undefined && most - least <= EQUAL)
      rows.push(space.components.map(({ id }) => (Object.hasOwn(of, id) ? of[id]! : 0)));
  return complementOf(rows, q);
}

function radicalInverse(index: number, base: number): number {
  let [value, unit] = [0, 1 / base];
  for (let left = index; left > 0; left = Math.floor(left / base)) {
    value += unit * (left % base);
    unit /= base;
  }
  return value;
}
