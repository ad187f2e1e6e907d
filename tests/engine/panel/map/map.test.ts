import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { createRandom } from '../../../../engine/numeric/random.ts';
import { preferenceCounts } from '../../../../engine/panel/choices/preference-counts.ts';
import { likingAgreement } from '../../../../engine/panel/map/liking-agreement.ts';
import { mapWithRegions } from '../../../../engine/panel/map/map-regions.ts';
import { panelMap } from '../../../../engine/panel/map/panel-map.ts';
import { principalMap } from '../../../../engine/panel/map/principal-map.ts';
import { procrustes } from '../../../../engine/panel/map/procrustes.ts';
import { expectAllClose, expectClose } from '../mixed/closeness.ts';

const r = JSON.parse(readFileSync('tests/reference/map/map.json', 'utf8'));
const cheese = JSON.parse(readFileSync('tests/reference/map/cream-cheese.json', 'utf8'));

/** Columns compared up to sign. */
function expectSameAxes(actual: number[][], expected: number[][], rtol: number, atol: number): void {
  expected[0]!.forEach((_, c) => {
    const [mine, theirs] = [actual.map((row) => row[c]!), expected.map((row) => row[c]!)];
    const sign = Math.sign(mine.reduce((sum, v, i) => sum + v * theirs[i]!, 0));
    expectAllClose(
      mine.map((v) => sign * v),
      theirs,
      rtol,
      atol,
    );
  });
}

describe('principal components', () => {
  test.each(['covariance', 'correlation'] as const)("against R's prcomp, %s", (scale) => {
    const map = principalMap(r.means, { scale });
    expectAllClose(map.deviations, r[scale].deviations, 1e-10);
    expectSameAxes(map.loadings, r[scale].loadings, 1e-9, 1e-11);
    expectSameAxes(map.scores, r[scale].scores, 1e-9, 1e-9);
  });

  test('cream cheese: nine mixes, 23 attributes', () => {
    const attributes = Object.keys(cheese.means);
    const products = Object.keys(cheese.means[attributes[0]!]);
    const means = products.map((m) => attributes.map((a) => cheese.means[a][m]));
    for (const scale of ['covariance', 'correlation'] as const) {
      const map = principalMap(means, { scale });
      const stored = cheese.pca[scale];
      // the means are printed to six digits at most
      expectAllClose(
        map.deviations.slice(0, stored.sdev.length),
        stored.sdev.slice(0, map.deviations.length),
        1e-5,
        1e-5,
      );
      expectAllClose(
        map.explained.slice(0, 2).map((v) => 100 * v),
        stored.explained_percent.slice(0, 2),
        1e-5,
        1e-3,
      );
    }
    const map = principalMap(means);
    const scores = products.map((m) => [
      cheese.pca.covariance.scores_PC1[m],
      cheese.pca.covariance.scores_PC2[m],
    ]);
    expectSameAxes(map.scores, scores, 1e-4, 1e-4);
    const loadings = attributes.map((a) => [cheese.pca.covariance.loadings_PC1[a]]);
    expectSameAxes(map.loadings, loadings, 1e-4, 1e-5);
  });

  test('units do not matter to the correlation map, shifts to neither', () => {
    const changed = r.means.map((row: number[]) => row.map((v, j) => 1e3 * (j + 1) * v + 1e5));
    const map = principalMap(changed, { scale: 'correlation' });
    expectAllClose(map.deviations, r.correlation.deviations, 1e-9);
    const shifted = principalMap(r.means.map((row: number[]) => row.map((v) => v + 1e6)));
    expectAllClose(shifted.deviations, r.covariance.deviations, 1e-8);
  });

  test('mixes that do not differ have no map; one attribute has one axis', () => {
    expect(
      principalMap([
        [0.1, 0.2],
        [0.1, 0.2],
        [0.1, 0.2],
      ]),
    ).toMatchObject({ status: 'not-estimable', reason: expect.stringContaining('differ') });
    expect(principalMap([[1], [2], [4]]).scores[0]).toHaveLength(1);
    expect(() =>
      principalMap([
        [1, 2],
        [2, 3],
      ]),
    ).toThrow(/means/);
  });
});

test('a turned and mirrored set of points is turned back', () => {
  const target = [
    [3, 1],
    [-2, 0.5],
    [-1, -1.5],
  ];
  const turned = target.map(([x, y]) => [0.6 * x! + 0.8 * y!, 0.8 * x! - 0.6 * y!]);
  expectAllClose(procrustes(turned, target).flat(), target.flat(), 1e-12, 1e-12);
});

describe('regions', () => {
  const panel = (assessors: number, noise: number, missing = 0) => {
    const random = createRandom(3, 'map regions');
    return Array.from({ length: assessors }, () => {
      const level = 10 * random.normal();
      return [0, 1, 2, 3, 4].map((mix) =>
        [8, -3, 4, 1].map((weight, j) => {
          const score = 50 + level + weight * mix + (j === 1 ? 12 * (mix % 2) : 0) + noise * random.normal();
          return random.uniform() < missing ? null : score;
        }),
      );
    });
  };

  test('the same seed gives the same regions, more noise larger ones', () => {
    const one = mapWithRegions(panel(10, 4), createRandom(1), { draws: 200 });
    expect(mapWithRegions(panel(10, 4), createRandom(1), { draws: 200 })).toEqual(one);
    const noisy = mapWithRegions(panel(10, 16), createRandom(1), { draws: 200 });
    const size = (m: typeof one) => m.regions.reduce((sum, e) => sum + e.halfAxes[0] * e.halfAxes[1], 0);
    expect(size(noisy)).toBeGreaterThan(4 * size(one));
    for (const region of one.regions) expect(region.halfAxes[0]).toBeGreaterThanOrEqual(region.halfAxes[1]);
  });

  test('region variances are those of means over assessors', () => {
    // along the first component the variance of a mean is noise²/A, as its loadings have length one
    const found = mapWithRegions(panel(40, 6), createRandom(2), { draws: 400 });
    const radius = Math.sqrt(5.991464547);
    const mean =
      found.regions.reduce(
        (sum, e) => sum + (e.halfAxes[0] / radius) ** 2 + (e.halfAxes[1] / radius) ** 2,
        0,
      ) / 5;
    // centring and turning take up part of two times 36/40; the drawn share is (A-1)/A
    expect(mean).toBeGreaterThan(0.4 * 1.8);
    expect(mean).toBeLessThan(1.1 * 1.8);
  });

  test('mixes far apart differ, a mix and its twin do not', () => {
    const tables = panel(12, 5).map((table, a) => [...table, table[2]!.map((v) => v! + ((a % 3) - 1) * 2)]);
    const { pairs } = mapWithRegions(tables, createRandom(4), { draws: 200 });
    const p = (a: number, b: number) => pairs.find((x) => x.a === a && x.b === b)!.p!;
    expect(p(0, 4)).toBeLessThan(1e-4);
    expect(p(2, 5)).toBeGreaterThan(0.05);
  });

  test('who is missing does not move a mix: levels of assessors are allowed for', () => {
    const whole = panel(8, 0);
    const gappy = whole.map((table, a) =>
      table.map((row, mix) => row.map((v) => ((a + mix) % 4 === 0 ? null : v))),
    );
    const [one, other] = [whole, gappy].map((t) => mapWithRegions(t, createRandom(5), { draws: 20 }).map);
    expectAllClose(other!.scores.flat(), one!.scores.flat(), 1e-8, 1e-8);
  });

  test('one assessor, a mix nobody scored, no second axis', () => {
    expect(() => mapWithRegions(panel(1, 1), createRandom(1))).toThrow(/assessors/);
    const nobody = panel(4, 1).map((table) =>
      table.map((row, mix) => (mix === 2 ? row.map(() => null) : row)),
    );
    expect(() => mapWithRegions(nobody, createRandom(1))).toThrow(/score by somebody/);
    const line = panel(4, 1).map((table) => table.map((row) => [row[0]!]));
    expect(mapWithRegions(line, createRandom(1))).toMatchObject({
      regions: [],
      reason: expect.stringContaining('one line'),
    });
  });
});

describe('the map of a panel', () => {
  const servings = ['P1', 'P2', 'P3'].flatMap((assessor, a) =>
    ['m1', 'm2', 'm3', 'm4'].map((mix, m) => ({
      ...{ mix, assessor, session: '1', replicate: '1', position: m + 1 },
      scores: [10 * m + a, null, (m * m + 2 * a) % 7],
    })),
  );

  test('leaves off a question that nobody answered, not the mixes that lack it', () => {
    const found = panelMap(servings, 3, createRandom(1), { draws: 20 });
    expect(found).toMatchObject({ mixes: ['m1', 'm2', 'm3', 'm4'], questions: [0, 2], reason: null });
    const without = servings.map((one) => ({ ...one, scores: [one.scores[0]!, one.scores[2]!] }));
    expect(found.map).toEqual(panelMap(without, 2, createRandom(1), { draws: 20 }).map);
  });
});

describe('liking', () => {
  test("agreement with an attribute as R's cor.test gives it", () => {
    const column = (j: number): number[] => r.means.map((row: number[]) => row[j]!);
    const found = likingAgreement(column(1), column(0));
    expectClose(found.correlation, r.agreement.r, 1e-12);
    expectAllClose(found.interval!, r.agreement.interval, 1e-9);
    expectClose(found.p, r.agreement.p, 1e-9);
    expectClose(found.slope, r.agreement.slope, 1e-11);
    const gaps = likingAgreement([...column(1), null, 3], [...column(0), 7, null]);
    expectClose(gaps.correlation, r.agreement.r, 1e-12);
  });

  test('too few mixes, or no difference, is said', () => {
    expect(likingAgreement([1, 2], [3, 4]).reason).toMatch(/three/);
    expect(likingAgreement([5, 5, 5], [1, 2, 3]).reason).toMatch(/same/);
    expect(likingAgreement([1, 2, 3], [2, 4, 6])).toMatchObject({ correlation: 1, interval: null });
  });

  test('first choices as R gives them', () => {
    const { counts, statistic, p, intervals, pair } = r.preference;
    const found = preferenceCounts(counts);
    expectClose(found.statistic, statistic, 1e-12);
    expectClose(found.p, p, 1e-9);
    found.shares.forEach((s, i) => {
      expectAllClose(s.interval, intervals[i], 1e-9);
    });
    expectClose(found.pairs[0]!.p, pair, 1e-10);
  });

  test('exact p of few choices, counted by hand: three tasters, three mixes', () => {
    // 27 ways: 3 all for one, 18 two and one, 6 one each
    expectClose(preferenceCounts([3, 0, 0]).pExact, 3 / 27, 1e-12);
    expectClose(preferenceCounts([2, 1, 0]).pExact, 21 / 27, 1e-12);
    expect(preferenceCounts([0, 0])).toMatchObject({ statistic: null, p: null });
    expect(() => preferenceCounts([1, 0.5])).toThrow(/counts/);
  });
});
