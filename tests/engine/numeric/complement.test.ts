import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { complementOfColumns } from '../../../engine/numeric/orthogonal.ts';
import { createRandom } from '../../../engine/numeric/random.ts';

const inner = (a: ArrayLike<number>, b: ArrayLike<number>) =>
  Array.from(a).reduce((sum, v, i) => sum + v * b[i]!, 0);

describe('the complement of columns', () => {
  it('is orthonormal, orthogonal to them and as wide as what they leave', () => {
    fc.assert(
      fc.property(fc.integer(), fc.integer({ min: 1, max: 30 }), fc.nat({ max: 30 }), (seed, n, asked) => {
        const p = Math.min(n, asked);
        const random = createRandom(seed, 'complement');
        const vectors = Array.from({ length: p }, () => Array.from({ length: n }, () => random.normal()));
        const rest = complementOfColumns(vectors, n);
        expect(rest).toHaveLength(n - p);
        // rounding of a few hundred additions of numbers of size 1
        rest.forEach((a, i) => {
          rest.forEach((b, j) => {
            expect(Math.abs(inner(a, b) - Number(i === j))).toBeLessThan(1e-12);
          });
          for (const vector of vectors) expect(Math.abs(inner(a, vector))).toBeLessThan(1e-11);
        });
      }),
      { seed: 5, numRuns: 60 },
    );
  });

  it('of a single vector in the plane is the one across', () => {
    const [across] = complementOfColumns([[3, 4]], 2);
    expect(Math.abs(across![0]!)).toBeCloseTo(0.8, 14);
    expect(across![0]! * 3 + across![1]! * 4).toBeCloseTo(0, 14);
  });

  it('of nothing is every axis', () => {
    expect(complementOfColumns([], 3).map((v) => [...v])).toEqual([
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ]);
  });
});
