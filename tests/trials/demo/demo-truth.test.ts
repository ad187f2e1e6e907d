import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  DEMO_ATTRIBUTES,
  DEMO_COMPONENTS,
  HIDDEN_RATIO,
  referenceScores,
  trueScores,
} from '../../../trials/demo/demo-truth.ts';
import { namedStream } from '../../../trials/demo/named-stream.ts';

/** Every figure below is the demo's own design, rounded there to whole points: an invention, not a measurement. */
const AT_REFERENCE = [55, 50, 42, 51, 34, 5];
const FIVE_POINTS_MORE: Record<string, number[]> = {
  peel: [3, 0, -3, -2, -3, -1],
  noot: [-2, 0, -1, 0, 3, 0],
  thiol: [0, 7, -3, -3, -3, 7],
  pink: [-2, -3, 9, -2, 2, -1],
  quassia: [-2, -4, -1, 8, 1, 0],
};
const DOSE_LOW_TO_HIGH = [15, 13, 13, 21, 14, 4];
const RANGES = [
  [28, 70],
  [22, 72],
  [11, 70],
  [16, 76],
  [14, 61],
  [0, 30],
];

/** Adds to one share at the hidden ratio; the others give way in proportion. */
function shifted(component: string, by: number): number[] {
  const k = DEMO_COMPONENTS.indexOf(component as (typeof DEMO_COMPONENTS)[number]);
  const from = HIDDEN_RATIO.shares;
  const rest = (1 - from[k]! - by) / (1 - from[k]!);
  return from.map((share, i) => (i === k ? share + by : share * rest));
}

const { shares, dose } = HIDDEN_RATIO;

describe('the invented truth', () => {
  it('scores the hidden ratio as documented', () => {
    expect(trueScores(shares, dose).map(Math.round)).toEqual(AT_REFERENCE);
  });

  it('lets the reference read four points juicier than its ratio', () => {
    const gap = referenceScores().map((score, i) => score - trueScores(shares, dose)[i]!);
    DEMO_ATTRIBUTES.forEach((id, i) => {
      expect(gap[i]).toBeCloseTo(id === 'juicy' ? 4 : 0, 12);
    });
  });

  it.each(Object.entries(FIVE_POINTS_MORE))(
    'moves as documented for five points more of %s',
    (id, expected) => {
      const change = trueScores(shifted(id, 0.05), dose).map(
        (score, i) => score - trueScores(shares, dose)[i]!,
      );
      // documented in whole points
      change.forEach((points, i) => {
        expect(Math.abs(points - expected[i]!), DEMO_ATTRIBUTES[i]!).toBeLessThanOrEqual(0.5);
      });
    },
  );

  it('bends cattiness upward with the thiol', () => {
    const catty = (by: number) => trueScores(shifted('thiol', by), dose)[5]! - trueScores(shares, dose)[5]!;
    expect(Math.round(catty(0.05))).toBe(7);
    expect(Math.round(catty(-0.05))).toBe(-4);
  });

  it('grows with the dose as documented', () => {
    const low = trueScores(shares, 0.17);
    const change = trueScores(shares, 0.33).map((score, i) => score - low[i]!);
    expect(change.map(Math.round)).toEqual(DOSE_LOW_TO_HIGH);
  });

  it('stays on the scale at any shares and dose', () => {
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(share, { minLength: 5, maxLength: 5 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (parts, d) => {
          const total = parts.reduce((sum, p) => sum + p, 0) || 1;
          for (const score of trueScores(
            parts.map((p) => p / total),
            d,
          )) {
            expect(score).toBeGreaterThanOrEqual(0);
            expect(score).toBeLessThan(100);
          }
        },
      ),
      { seed: 4, numRuns: 300 },
    );
  });
});

describe('the truth over the allowed region', () => {
  const LOW = [0.2, 0.1, 0.05, 0.05, 0.05];
  const HIGH = [0.5, 0.4, 0.18, 0.3, 0.25];
  const TOLERANCES = [8, 8, 8, 8, 10];
  const points = uniformPoints(40_000);
  const reference = referenceScores();

  function uniformPoints(count: number): number[][] {
    const stream = namedStream(3, 'region');
    const free = 1 - LOW.reduce((a, b) => a + b, 0);
    const found: number[][] = [];
    while (found.length < count) {
      const waits = LOW.map(() => -Math.log(1 - stream.uniform()));
      const total = waits.reduce((a, b) => a + b, 0);
      const at = waits.map((w, i) => LOW[i]! + (free * w) / total);
      const inside =
        at.every((x, i) => x <= HIGH[i]!) && at[0]! + 0.2 * at[3]! <= 0.53 && at[1]! + at[2]! >= 0.2;
      if (inside) found.push(trueScores(at, 0.17 + 0.16 * stream.uniform()));
    }
    return found;
  }

  it('spans the documented ranges', () => {
    RANGES.forEach(([low, high], i) => {
      const scores = points.map((point) => point[i]!);
      const [least, most] = [Math.min(...scores), Math.max(...scores)];
      // a random sample does not reach the very corners: up to three points short, never beyond
      expect(least).toBeGreaterThan(low! - 0.6);
      expect(least).toBeLessThan(low! + 3);
      expect(most).toBeLessThan(high! + 0.6);
      expect(most).toBeGreaterThan(high! - 4);
    });
  });

  it('matches the reference on about 4 in 100 of the region', () => {
    const matches = points.filter(
      (point) => point[5]! <= 20 && TOLERANCES.every((t, i) => Math.abs(point[i]! - reference[i]!) <= t),
    );
    const share = matches.length / points.length;
    expect(share).toBeGreaterThan(0.035);
    expect(share).toBeLessThan(0.055);
  });

  it('misses by about nine points at a random ratio', () => {
    const misses = points
      .map((point) => {
        const squares = point.map(
          (score, i) => (i === 5 ? Math.max(0, score - 15) : score - reference[i]!) ** 2,
        );
        return Math.sqrt(squares.reduce((a, b) => a + b, 0) / squares.length);
      })
      .sort((a, b) => a - b);
    expect(misses[misses.length / 2]).toBeCloseTo(9.3, 0);
  });
});
