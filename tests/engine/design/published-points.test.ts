import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { ladderThreshold } from '../../../engine/design/dose-ladder.ts';
import { latticeWeights, POINT_SETS, simplexPoints } from '../../../engine/design/simplex-points.ts';
import { describeRegion } from '../../../engine/region/describe-region.ts';
import { loadTestSolver, simplex, spaceOf } from '../region/spaces.ts';

const solver = await loadTestSolver();
const reference = (name: string) =>
  JSON.parse(readFileSync(new URL(`../../reference/design/${name}.json`, import.meta.url), 'utf8'));
const checks = reference('design-checks');

describe('published points on a simplex', () => {
  it('lattices of Scheffé (1958): as many points as published', () => {
    for (const { q, m, n } of checks.lattice_counts as { q: number; m: number; n: number }[])
      expect(latticeWeights(q, m)).toHaveLength(n);
  });

  it('centroids of Scheffé (1963): 2^q - 1', () => {
    for (const { q, n } of checks.simplex_centroid_counts as { q: number; n: number }[]) {
      const points = simplexPoints(describeRegion(simplex(q), solver), 'centroid');
      expect(points).toHaveLength(n);
      expect(points.some((x) => x.every((share) => Math.abs(share - 1 / q) < 1e-12))).toBe(true);
    }
  });

  it('axial points lie midway between centroid and corner: (q + 1)/2q of one component, 1/2q of the others', () => {
    const points = simplexPoints(describeRegion(simplex(4), solver), 'axial');
    expect(points).toHaveLength(9);
    for (const point of points.slice(5)) {
      expect(Math.max(...point)).toBeCloseTo(5 / 8, 12);
      expect(Math.min(...point)).toBeCloseTo(1 / 8, 12);
    }
  });

  it('on a region with least shares they are carried onto its own corners; a region with more corners is refused', () => {
    const cut = describeRegion(spaceOf([0.2, 0.1, 0.05], [1, 1, 1]), solver);
    for (const set of POINT_SETS)
      for (const point of simplexPoints(cut, set)) {
        expect(point.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12);
        point.forEach((share, i) => {
          expect(share).toBeGreaterThan([0.2, 0.1, 0.05][i]! - 1e-12);
        });
      }
    const four = describeRegion(spaceOf([0, 0, 0], [0.6, 0.6, 1]), solver);
    expect(() => simplexPoints(four, 'lattice')).toThrow(/3 corners, one more than it has directions/);
  });
});

describe('thresholds from a dose ladder (ASTM E679)', () => {
  const one = reference('threshold-bet');
  const answers = Object.entries(one.answers_1_is_correct as Record<string, string>).map(
    ([assessor, pattern]) => ({ assessor, correct: [...pattern].map((c) => c === '1') }),
  );

  it('each assessor and the group as computed by hand', () => {
    const found = ladderThreshold(one.concentrations, answers);
    for (const { assessor, threshold } of found.individual)
      expect(Math.abs(threshold - one.individual[assessor].BET)).toBeLessThan(1e-6);
    expect(Math.abs(found.threshold - one.group_BET)).toBeLessThan(1e-6);
    expect(Math.abs(found.logDeviation! - one.sd_log10)).toBeLessThan(1e-6);
    expect(found.warnings).toEqual([
      '2 of 8 lie beyond an end of the ladder: their own thresholds are guesses.',
    ]);
  });

  it('refuses ladders that do not rise and answers that do not fit', () => {
    expect(() => ladderThreshold([1, 1], answers)).toThrow(/rising/);
    expect(() => ladderThreshold([1, 2], answers)).toThrow(/answers of a1: found 6, allowed 2/);
    expect(() => ladderThreshold([1, 2], [])).toThrow(/at least one assessor/);
    expect(ladderThreshold([1, 2], [{ assessor: 'P1', correct: [false, true] }]).logDeviation).toBeNull();
  });
});
