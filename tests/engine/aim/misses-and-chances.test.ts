import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BatchImprovement } from '../../../engine/aim/batch-improvement.ts';
import { bestPoint } from '../../../engine/aim/best-recipe.ts';
import {
  type DistanceDraws,
  distanceDraws,
  expectedDistance,
  matchChance,
} from '../../../engine/aim/distance-draws.ts';
import { highestChance } from '../../../engine/aim/highest-chance.ts';
import { missOf } from '../../../engine/aim/target-miss.ts';
import type { ScoreDraws } from '../../../engine/model/posterior-types.ts';
import { normalCdf, normalDensity } from '../../../engine/numeric/normal.ts';
import { createRandom } from '../../../engine/numeric/random.ts';
import type { Attribute } from '../../../engine/panel/observations.ts';

const nothing = { reference: null, least: 0, most: 0 };

function aimedAt(value: number, more: Partial<Attribute> = {}): Attribute {
  return { id: 'a', scale: [0, 100], target: { kind: 'value', value }, tolerance: 8, weight: 1, ...more };
}

/** Draws of one point with independent normal scores. */
function normalScores(means: readonly number[], deviations: readonly number[], count: number): ScoreDraws {
  const random = createRandom(7);
  const scores = means.map((mean, k) =>
    Float64Array.from({ length: count }, () => mean + deviations[k]! * random.normal()),
  );
  return { count, points: 1, scores, reference: means.map(() => null) };
}

describe('a miss', () => {
  it('is measured from each kind of target, by hand', () => {
    expect(missOf({ kind: 'value', value: 40 }, 46, nothing)).toBe(6);
    expect(missOf({ kind: 'range', low: 40, high: 50 }, 46, nothing)).toBe(0);
    expect(missOf({ kind: 'range', low: 40, high: 50 }, 53, nothing)).toBe(3);
    expect(missOf({ kind: 'range', low: 40, high: 50 }, 33, nothing)).toBe(-7);
    expect(missOf({ kind: 'most' }, 70, { ...nothing, most: 82 })).toBe(-12);
    expect(missOf({ kind: 'least' }, 9, { ...nothing, least: 4 })).toBe(5);
    expect(missOf({ kind: 'reference' }, 50, { ...nothing, reference: 54 })).toBe(-4);
  });

  it('never changes when score and target move together', () => {
    const point = fc.double({ min: 0, max: 100, noNaN: true });
    fc.assert(
      fc.property(point, point, fc.double({ min: -50, max: 50, noNaN: true }), (value, score, by) => {
        const before = missOf({ kind: 'value', value }, score, nothing);
        const after = missOf({ kind: 'value', value: value + by }, score + by, nothing);
        expect(Math.abs(after - before)).toBeLessThan(1e-9);
      }),
      { seed: 1, numRuns: 200 },
    );
  });
});

describe('a distance', () => {
  it('weighs squared misses in percent of each scale, by hand', () => {
    const attributes = [
      aimedAt(4, { scale: [0, 10], tolerance: 1 }),
      aimedAt(0, { target: { kind: 'range', low: 20, high: 30 }, weight: 3 }),
      aimedAt(0, { target: null, weight: 9 }),
    ];
    const scores = [[5], [36], [80]].map((list) => Float64Array.from(list));
    const draws = distanceDraws(attributes, { count: 1, points: 1, scores, reference: [null, null, null] });
    // misses of 10 and 6 percent: root of (1·100 + 3·36) / 4
    expect(draws.distance[0]).toBeCloseTo(Math.sqrt(208 / 4), 12);
    expect(draws.matches[0]).toBe(1);
  });

  it('compares most and least with the best of each draw, and cuts scores off at the ends of the scale', () => {
    const scores = [Float64Array.from([50, 70, 120, 30, 10, 20])];
    const most = distanceDraws([aimedAt(0, { target: { kind: 'most' } })], {
      count: 2,
      points: 3,
      scores,
      reference: [null],
    });
    expect([...most.misses[0]!]).toEqual([-50, -30, 0, 0, -20, -10]);
  });

  it('leaves an attribute out whose reference was never tasted', () => {
    const attributes = [aimedAt(40), aimedAt(0, { target: { kind: 'reference' } })];
    const scores = [Float64Array.from([45]), Float64Array.from([90])];
    const draws = distanceDraws(attributes, { count: 1, points: 1, scores, reference: [null, null] });
    expect(draws.places).toEqual([0]);
    expect(draws.distance[0]).toBeCloseTo(5, 12);
  });

  it('takes the reference’s own draw', () => {
    const attributes = [aimedAt(0, { target: { kind: 'reference' } })];
    const scores = [Float64Array.from([45, 60])];
    const reference = [Float64Array.from([40, 62])];
    const draws = distanceDraws(attributes, { count: 2, points: 1, scores, reference });
    expect([...draws.misses[0]!]).toEqual([5, -2]);
  });
});

/** Draws of distances that are what they are. */
function givenDistances(count: number, points: number, distance: Float64Array): DistanceDraws {
  const matches = new Uint8Array(count * points);
  return { count, points, places: [], misses: [], weights: [], distance, weightOf: 1, matches };
}

describe('expected improvement', () => {
  it.each([
    [0, 1, 0.5],
    [1, 2, 0.5],
    [3, 0.5, 2.5],
    [-1, 1.5, 1],
  ])(
    'is the closed form of Jones, Schonlau and Welch (1998) for a normal %d ± %d below %d',
    (mean, deviation, best) => {
      const count = 200_000;
      const random = createRandom(5);
      const values = new Float64Array(2 * count);
      for (let s = 0; s < count; s++) {
        values[2 * s] = best;
        values[2 * s + 1] = mean + deviation * random.normal();
      }
      const improvement = new BatchImprovement(givenDistances(count, 2, values), [0]);
      const z = (best - mean) / deviation;
      const expected = deviation * (z * normalCdf(z) + normalDensity(z));
      // four standard errors of the mean of 200,000 draws
      expect(Math.abs(improvement.gain(1) - expected)).toBeLessThan((4 * deviation) / Math.sqrt(count));
    },
  );

  const stored = JSON.parse(
    readFileSync(new URL('../../reference/aim/noncentral.json', import.meta.url), 'utf8'),
  ) as {
    cases: {
      means: number[];
      deviation: number;
      best: number;
      gain: number;
      expectedDistance: number;
      chanceBelowBest: number;
    }[];
  };

  it.each(stored.cases.map((c) => [c.means.join(), c] as const))(
    'of the composite is its noncentral chi-square form: misses %s',
    (_, { means, deviation, best, gain, expectedDistance: mean, chanceBelowBest }) => {
      const count = 100_000;
      const attributes = means.map(() => aimedAt(50, { scale: [-1000, 1100] }));
      // a scale of 2100 makes a point 100/2100 percent: work in those units throughout
      const unit = 100 / 2100;
      const scores = normalScores(
        means.map((m) => 50 + m),
        means.map(() => deviation),
        count,
      );
      const one = distanceDraws(attributes, scores);
      const both = new Float64Array(2 * count);
      for (let s = 0; s < count; s++) {
        both[2 * s] = best * unit;
        both[2 * s + 1] = one.distance[s]!;
      }
      const improvement = new BatchImprovement(givenDistances(count, 2, both), [0]);
      const error = (4 * deviation * unit) / Math.sqrt(count);
      expect(Math.abs(improvement.gain(1) - gain * unit)).toBeLessThan(error);
      expect(Math.abs(expectedDistance(one, 0) - mean * unit)).toBeLessThan(error);
      const below = one.distance.filter((d) => d <= best * unit).length / count;
      expect(Math.abs(below - chanceBelowBest)).toBeLessThan(2 / Math.sqrt(count));
    },
  );

  it('counts a batch jointly: the second of two equal points adds nothing', () => {
    const values = Float64Array.from([5, 3, 3, 4, 5, 6, 6, 2]);
    const improvement = new BatchImprovement(givenDistances(2, 4, values), [0]);
    expect(improvement.gain(1)).toBe(1);
    improvement.add(1);
    expect(improvement.gain(2)).toBe(0);
    expect(improvement.gain(3)).toBe(1.5);
    expect(improvement.least()).toBe(4);
  });

  it('has a logarithm that ranks points which never win', () => {
    const improvement = new BatchImprovement(givenDistances(1, 3, Float64Array.from([1, 4, 9])), [0]);
    expect(improvement.gain(1)).toBe(0);
    expect(improvement.gain(2)).toBe(0);
    expect(Number.isFinite(improvement.logGain(2))).toBe(true);
    expect(improvement.logGain(1)).toBeGreaterThan(improvement.logGain(2));
  });
});

describe('chances', () => {
  it('are products for independent attributes', () => {
    const attributes = [aimedAt(50), aimedAt(30, { tolerance: 5 })];
    const draws = distanceDraws(attributes, normalScores([54, 28], [6, 4], 100_000));
    const inside = (mean: number, deviation: number, low: number, high: number) =>
      normalCdf((high - mean) / deviation) - normalCdf((low - mean) / deviation);
    const expected = inside(54, 6, 42, 58) * inside(28, 4, 25, 35);
    expect(Math.abs(matchChance(draws, 0) - expected)).toBeLessThan(0.007);
  });

  it('reach at most what the spread allows at a perfect match', () => {
    const attributes = [aimedAt(50), aimedAt(30, { tolerance: 5 }), aimedAt(0, { target: { kind: 'most' } })];
    const draws = normalScores([70, 10, 50], [6, 4, 9], 100_000);
    const within = (tolerance: number, deviation: number) => 2 * normalCdf(tolerance / deviation) - 1;
    const expected = within(8, 6) * within(5, 4);
    expect(Math.abs(highestChance(attributes, draws, 0) - expected)).toBeLessThan(0.007);
  });

  it('choose the best point; equal ones by distance', () => {
    const draws = (rows: [number, number][][]): DistanceDraws => {
      const count = rows.length;
      const distance = Float64Array.from(rows.flatMap((row) => row.map(([d]) => d)));
      const matches = Uint8Array.from(rows.flatMap((row) => row.map(([, m]) => m)));
      return { ...givenDistances(count, rows[0]!.length, distance), matches };
    };
    const certain = Array.from({ length: 200 }, (): [number, number][] => [
      [3, 0],
      [5, 1],
      [4, 1],
    ]);
    expect(bestPoint(draws(certain), [0, 1, 2])).toBe(2);
    const hopeless = certain.map((row) => row.map(([d]): [number, number] => [d, 0]));
    expect(bestPoint(draws(hopeless), [0, 1, 2])).toBe(0);
  });
});
