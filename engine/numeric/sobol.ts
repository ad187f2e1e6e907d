import { EngineError } from '../errors.ts';
import { requireCount } from './guard.ts';
import type { Random } from './random.ts';

/**
 * Primitive polynomials (degree s, coefficients a) and first direction numbers m of dimensions 2 to 21 (Joe and Kuo
 * 2008, SIAM J. Sci. Comput. 30, 2635-2654, file new-joe-kuo-6).
 */
const DIRECTIONS: readonly (readonly [number, number, readonly number[]])[] = [
  [1, 0, [1]],
  [2, 1, [1, 3]],
  [3, 1, [1, 3, 1]],
  [3, 2, [1, 1, 1]],
  [4, 1, [1, 1, 3, 3]],
  [4, 4, [1, 3, 5, 13]],
  [5, 2, [1, 1, 5, 5, 17]],
  [5, 4, [1, 1, 5, 5, 5]],
  [5, 7, [1, 1, 7, 11, 19]],
  [5, 11, [1, 1, 5, 1, 1]],
  [5, 13, [1, 1, 1, 3, 11]],
  [5, 14, [1, 3, 5, 5, 31]],
  [6, 1, [1, 3, 3, 9, 7, 49]],
  [6, 13, [1, 1, 1, 15, 21, 21]],
  [6, 16, [1, 3, 1, 13, 27, 49]],
  [6, 19, [1, 1, 1, 15, 7, 5]],
  [6, 22, [1, 3, 1, 15, 13, 25]],
  [6, 25, [1, 1, 5, 5, 19, 61]],
  [7, 1, [1, 3, 7, 11, 23, 15, 103]],
  [7, 4, [1, 3, 7, 13, 13, 15, 69]],
];

const BITS = 32;

/**
 * Sobol' points in the unit cube, in Gray-code order (Antonov and Saleev 1979), each coordinate moved by a random
 * digital shift where a stream is given: then every point is uniform, and runs of 2^k points fill the cube evenly.
 *
 * @param dimension 1 to 21 @param count up to 2^31 @param random default none: the unshifted sequence, from the origin
 */
export function sobolPoints(dimension: number, count: number, random?: Random): number[][] {
  requireCount('dimension', dimension, 1);
  requireCount('count', count);
  if (dimension > DIRECTIONS.length + 1)
    throw new EngineError('bad-argument', 'dimension', dimension, 'at most 21');
  const directions = Array.from({ length: dimension }, (_, j) => directionsOf(j));
  const at = Array.from({ length: dimension }, () => (random ? random.integer(2 ** BITS) >>> 0 : 0));
  return Array.from({ length: count }, (_, i) => {
    const point = at.map((v) => v / 2 ** BITS);
    const bit = 31 - Math.clz32(~i & (i + 1));
    for (let j = 0; j < dimension; j++) at[j] = (at[j]! ^ directions[j]![bit]!) >>> 0;
    return point;
  });
}

function directionsOf(j: number): Uint32Array {
  const v = new Uint32Array(BITS);
  if (j === 0) return v.map((_, k) => (1 << (BITS - 1 - k)) >>> 0);
  const [degree, coefficients, first] = DIRECTIONS[j - 1]!;
  for (let k = 0; k < BITS; k++) {
    if (k < degree) v[k] = first[k]! << (BITS - 1 - k);
    else v[k] = next(v, k, degree, coefficients);
  }
  return v;
}

function next(v: Uint32Array, k: number, degree: number, coefficients: number): number {
  let value = v[k - degree]! ^ (v[k - degree]! >>> degree);
  for (let i = 1; i < degree; i++) if ((coefficients >> (degree - 1 - i)) & 1) value ^= v[k - i]!;
  return value >>> 0;
}
