import { describe, expect, it } from 'vitest';
import { createRandom } from '../../../engine/numeric/random.ts';
import type { BlendSpace } from '../../../engine/region/blend-space.ts';
import { describeRegion } from '../../../engine/region/describe-region.ts';
import { isAllowed, type Region } from '../../../engine/region/region.ts';
import { regionRule } from '../../../engine/region/region-rule.ts';
import { samplePoints } from '../../../engine/region/sampling.ts';
import { loadTestSolver, simplex, spaceOf } from './spaces.ts';

const solver = await loadTestSolver();

/** Rising factorial a (a+1) … of k factors. */
const rising = (a: number, k: number): number => (k === 0 ? 1 : (a + k - 1) * rising(a, k - 1));

/** E Π xᵢ^kᵢ of a uniform blend on the whole simplex: the Dirichlet distribution with all parameters 1. */
function dirichlet(powers: readonly number[]): number {
  const top = powers.reduce((product, k) => product * rising(1, k), 1);
  return (
    top /
    rising(
      powers.length,
      powers.reduce((a, b) => a + b, 0),
    )
  );
}

function meanOf(region: Region, degree: number, value: (x: ArrayLike<number>) => number, most?: number) {
  let sum = 0;
  const rule = regionRule(region, { degree, random: createRandom(2, 'rule'), ...(most ? { most } : {}) });
  rule.visit((x, weight) => {
    sum += weight * value(x);
  });
  return { mean: sum, exact: rule.exact };
}

describe('moments of the whole simplex in closed form (Dirichlet)', () => {
  it('exact rules: to 1e-12, up to the eighth degree', () => {
    for (const q of [2, 3, 4, 5]) {
      const region = describeRegion(simplex(q), solver);
      for (const powers of [[1], [2], [1, 1], [4], [2, 2], [3, 1], [8], [4, 4], [6, 2]].map((p) =>
        Array.from({ length: q }, (_, i) => p[i] ?? 0),
      )) {
        const { mean, exact } = meanOf(region, 8, (x) => powers.reduce((v, k, i) => v * x[i]! ** k, 1));
        expect(exact).toBe(true);
        expect(Math.abs(mean / dirichlet(powers) - 1)).toBeLessThan(1e-12);
      }
    }
  });

  it('spread points where an exact rule would cost too much: to 0.2 %', () => {
    const region = describeRegion(simplex(9), solver);
    for (const powers of [[1], [2], [1, 1], [2, 2]]) {
      const whole = Array.from({ length: 9 }, (_, i) => powers[i] ?? 0);
      const value = (x: ArrayLike<number>) => whole.reduce((v, k, i) => v * x[i]! ** k, 1);
      const { mean, exact } = meanOf(region, 6, value, 100);
      expect(exact).toBe(false);
      const spread = Math.sqrt(dirichlet(whole.map((k) => 2 * k)) / dirichlet(whole) ** 2 - 1);
      expect(Math.abs(mean / dirichlet(whole) - 1)).toBeLessThan(0.002 * Math.max(1, spread));
    }
  });
});

/** Regions that are long one way and thin another, slanted, cut, flat, with components a hundredfold apart. */
const REGIONS: [string, BlendSpace][] = [
  ['ten components, none above 0.4', spaceOf(new Array(10).fill(0.02), new Array(10).fill(0.4))],
  ['a hundredfold apart', spaceOf([0.002, 0.2, 0.1, 0], [0.01, 0.7, 0.6, 0.3])],
  [
    'a slanted sliver',
    spaceOf([0, 0, 0, 0], [1, 1, 1, 1], [{ of: { a: 1, b: -2, c: 0.5 }, least: 0, most: 0.001 }]),
  ],
  ['flat', spaceOf([0, 0, 0, 0], [1, 1, 1, 1], [{ of: { a: 1, b: -2 }, least: 0, most: 0 }])],
];

/** Where a share lies on its own range, 0 to 1. */
function placeOf({ low, high }: Region, x: ArrayLike<number>, i: number): number {
  return (x[i]! - low[i]!) / (high[i]! - low[i]!);
}

/** First and second moments of all places, by the exact rule, in one visit. */
function momentsOf(region: Region): Record<1 | 2, number[]> {
  const moments = { 1: region.low.map(() => 0), 2: region.low.map(() => 0) };
  const rule = regionRule(region, { degree: 2, random: createRandom(2, 'rule') });
  expect(rule.exact).toBe(true);
  rule.visit((x, weight) => {
    for (let i = 0; i < region.low.length; i++) {
      const place = placeOf(region, x, i);
      moments[1][i]! += weight * place;
      moments[2][i]! += weight * place * place;
    }
  });
  return moments;
}

describe('uniform points', () => {
  for (const [name, space] of REGIONS)
    it(`${name}: all inside, moments as an exact rule gives them`, () => {
      const region = describeRegion(space, solver);
      const count = 20_000;
      const points = samplePoints(region, createRandom(3, 'walk'), count);
      expect(points.filter((p) => !isAllowed(region, p, 1e-9))).toHaveLength(0);
      const width = region.high.map((h, i) => h - region.low[i]!);
      const expected = momentsOf(region);
      for (let i = 0; i < region.low.length; i++) {
        if (width[i]! === 0) continue;
        for (const power of [1, 2] as const) {
          const found = points.reduce((sum, p) => sum + placeOf(region, p, i) ** power, 0) / count;
          // Spread at most 0.5, points correlated: four standard errors of some 5,000 independent ones.
          expect(Math.abs(found - expected[power]![i]!)).toBeLessThan(0.02);
        }
      }
    });

  it('the share of a box that a cut leaves: a known volume', () => {
    const region = describeRegion(simplex(6), solver);
    const points = samplePoints(region, createRandom(4, 'walk'), 20_000);
    const above = points.filter((p) => p[2]! > 0.25).length / 20_000;
    expect(Math.abs(above - 0.75 ** 5)).toBeLessThan(0.015);
  });

  it('components in another order: the same moments', () => {
    const space = REGIONS[0]![1];
    const region = describeRegion(space, solver);
    const points = samplePoints(region, createRandom(9, 'walk'), 40_000);
    const squares = region.low.map((_, i) => points.reduce((sum, p) => sum + p[i]! ** 2, 0) / 40_000);
    expect(Math.max(...squares) / Math.min(...squares)).toBeLessThan(1.06);
  });
});
