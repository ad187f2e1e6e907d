import { describe, expect, it } from 'vitest';
import { anchorsOf, knowingTarget } from '../../../engine/aim/reachable-target.ts';
import { createRandom } from '../../../engine/numeric/random.ts';
import type { Attribute, Target } from '../../../engine/panel/observations.ts';

function attribute(target: Target): Attribute {
  return { id: 'a', scale: [0, 100], target, tolerance: 8, weight: 1 };
}

/** Draws at one point and an anchor, jointly normal; the reference beside them where asked for. */
function jointDraws(count: number, reference: boolean) {
  const random = createRandom(3, 'joint');
  const scores = new Float64Array(2 * count);
  const own = new Float64Array(count);
  for (let s = 0; s < count; s++) {
    const common = random.normal();
    // standard deviations 5 and 6, correlation 0.8
    scores[2 * s] = 40 + 5 * (0.8 * common + 0.6 * random.normal());
    scores[2 * s + 1] = 50 + 6 * common;
    own[s] = 58 + 4 * random.normal();
  }
  return { count, points: 2, scores: [scores], reference: [reference ? own : null] };
}

function moments(values: Float64Array): { mean: number; variance: number } {
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  return { mean, variance: values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / values.length };
}

const certain = { places: [0], shares: [1], reachable: 1 };
const COUNT = 40_000;

describe('draws that know the target can be met', () => {
  it('have the conditional mean and variance of the normal distribution', () => {
    const draws = jointDraws(COUNT, false);
    const known = knowingTarget([attribute({ kind: 'value', value: 60 })], draws, certain, createRandom(1));
    const { mean, variance } = moments(known.scores[0]!);
    // covariance 24, anchor variance 36 and a grain of 3 points
    expect(known.points).toBe(1);
    expect(Math.abs(mean - (40 + (24 / 45) * 10))).toBeLessThan(0.15);
    expect(Math.abs(variance - (25 - 24 ** 2 / 45))).toBeLessThan(0.4);
  });

  it('move the reference toward the anchor as well', () => {
    const draws = jointDraws(COUNT, true);
    const known = knowingTarget([attribute({ kind: 'reference' })], draws, certain, createRandom(1));
    // gap 8, its variance 36 + 16 and the grain: the reference comes down by its own share
    expect(Math.abs(moments(known.reference[0]!).mean - (58 - (16 / 61) * 8))).toBeLessThan(0.15);
    expect(Math.abs(moments(known.scores[0]!).mean - (40 + (24 / 61) * 8))).toBeLessThan(0.15);
  });

  it('stay as they are where the target is out of reach', () => {
    const draws = jointDraws(100, false);
    const never = { ...certain, reachable: 0 };
    const known = knowingTarget([attribute({ kind: 'value', value: 60 })], draws, never, createRandom(1));
    expect([...known.scores[0]!]).toEqual(Array.from({ length: 100 }, (_, s) => draws.scores[0]![2 * s]));
  });
});

describe('where a target may be met', () => {
  const predictions = (mean: number[], deviation: number) => {
    const own = Float64Array.from(mean);
    const standardError = new Float64Array(mean.length).fill(deviation);
    return [{ mean: own, standardError, low: own, high: own }];
  };

  it('shares by density, by hand', () => {
    const target = [attribute({ kind: 'value', value: 60 })];
    const { places, shares, reachable } = anchorsOf(target, predictions([60, 65, 20], 4), [null]);
    expect(places.slice(0, 2)).toEqual([0, 1]);
    // variance 16 and a grain of 9: densities 1 and exp(-25 / 50)
    expect(shares[0]! / shares[1]!).toBeCloseTo(Math.exp(0.5), 9);
    // odds 7 to 3 times the mean density in reach over the one out of reach, 0.3 of it spread by 16 points
    const density = (gap: number, variance: number) =>
      Math.exp((-gap * gap) / 2 / variance) / Math.sqrt(variance);
    const gaps = [0, 5, 40];
    const met = gaps.reduce((sum, gap) => sum + density(gap, 25), 0);
    const off = gaps.reduce((sum, gap) => sum + 0.7 * density(gap, 25) + 0.3 * density(gap, 281), 0);
    const odds = ((7 / 3) * met) / off;
    expect(reachable).toBeCloseTo(odds / (1 + odds), 9);
  });

  it('says that a target far off every prediction is not', () => {
    const far = anchorsOf([attribute({ kind: 'value', value: 95 })], predictions([40, 50, 60], 3), [null]);
    expect(far.reachable).toBeLessThan(0.01);
    const liking = anchorsOf([attribute({ kind: 'most' })], predictions([40, 50], 3), [null]);
    expect(liking.reachable).toBeCloseTo(0.7, 9);
  });
});
