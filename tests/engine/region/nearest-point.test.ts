import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createRandom } from '../../../engine/numeric/random.ts';
import { distanceToBoundary } from '../../../engine/region/boundary.ts';
import { describeRegion } from '../../../engine/region/describe-region.ts';
import { nearestPoint } from '../../../engine/region/nearest-point.ts';
import { isAllowed, type Region } from '../../../engine/region/region.ts';
import { samplePoints } from '../../../engine/region/sampling.ts';
import { loadTestSolver, simplex, spaceOf } from './spaces.ts';

const solver = await loadTestSolver();

/** Squared distance, each component on its own range. */
function away(region: Region, a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, v, i) => {
    const width = region.high[i]! - region.low[i]!;
    return width > 0 ? sum + ((v - b[i]!) / width) ** 2 : sum;
  }, 0);
}

describe('nearest allowed mix', () => {
  it('by hand: onto a low, onto a corner, onto the sum', () => {
    const whole = describeRegion(simplex(3), solver);
    const near = (shares: number[], expected: number[]) =>
      nearestPoint(whole, shares).forEach((v, i) => {
        expect(v).toBeCloseTo(expected[i]!, 12);
      });
    near([0.5, 0.6, -0.1], [0.45, 0.55, 0]);
    near([2, -1, -1], [1, 0, 0]);
    near([0.5, 0.5, 0.3], [0.4, 0.4, 0.2]);
    near([0.2, 0.3, 0.5], [0.2, 0.3, 0.5]);
  });

  it('allowed, and no sampled mix is nearer: random regions and targets', () => {
    const space = spaceOf(
      [0.002, 0, 0.1, 0.05],
      [0.01, 0.5, 0.7, 0.6],
      [{ of: { b: 1, c: -0.5 }, least: -0.2, most: 0.1 }],
    );
    const region = describeRegion(space, solver);
    const points = samplePoints(region, createRandom(1, 'near'), 3000);
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -0.5, max: 1.5, noNaN: true }), { minLength: 4, maxLength: 4 }),
        (target) => {
          const found = nearestPoint(region, target);
          const own = away(region, found, target);
          return isAllowed(region, found, 1e-8) && points.every((p) => away(region, p, target) >= own - 1e-7);
        },
      ),
      { numRuns: 100, seed: 5 },
    );
  });

  it('in a flat region and in a single point', () => {
    const flat = describeRegion(
      spaceOf([0, 0, 0], [1, 1, 1], [{ of: { a: 1, b: -2 }, least: 0, most: 0 }]),
      solver,
    );
    const found = nearestPoint(flat, [0.9, 0.1, 0.2]);
    expect(isAllowed(flat, found, 1e-9)).toBe(true);
    const point = describeRegion(spaceOf([0.2, 0.3, 0.5], [0.2, 0.3, 0.5]), solver);
    expect(nearestPoint(point, [0.9, 0.1, 0.2])).toEqual([0.2, 0.3, 0.5]);
  });
});

describe('distance to the boundary', () => {
  it('of the centroid of a triangle: the radius of its inscribed circle, 1/√6', () => {
    const whole = describeRegion(simplex(3), solver);
    expect(distanceToBoundary(whole, [1 / 3, 1 / 3, 1 / 3])).toBeCloseTo(1 / Math.sqrt(6), 12);
    expect(distanceToBoundary(whole, [0, 0.5, 0.5])).toBeCloseTo(0, 12);
    expect(distanceToBoundary(whole, [-0.1, 0.5, 0.6])).toBeLessThan(0);
  });

  it('a step of that length stays inside whatever its direction, and some longer one does not', () => {
    const region = describeRegion(spaceOf([0.1, 0, 0.05], [0.5, 0.6, 0.7]), solver);
    const at = [0.3, 0.3, 0.4];
    const reach = distanceToBoundary(region, at);
    const inside = (length: number) =>
      Array.from({ length: 720 }, (_, k) => (k * Math.PI) / 360).map((angle) => {
        const [u, v] = [(Math.cos(angle) * length) / Math.SQRT2, (Math.sin(angle) * length) / Math.sqrt(6)];
        return isAllowed(region, [at[0]! + u + v, at[1]! - u + v, at[2]! - 2 * v]);
      });
    expect(inside(reach * 0.9999).every(Boolean)).toBe(true);
    expect(inside(reach * 1.001).every(Boolean)).toBe(false);
  });
});
