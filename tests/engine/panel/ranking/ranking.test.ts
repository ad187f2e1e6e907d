import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { friedman } from '../../../../engine/panel/ranking/friedman.ts';
import { midranks } from '../../../../engine/panel/ranking/midranks.ts';
import { pageTrend } from '../../../../engine/panel/ranking/page.ts';
import { expectAllClose, expectClose } from '../mixed/closeness.ts';

const stored = JSON.parse(readFileSync('tests/reference/ranking/ranking.json', 'utf8'));
const [iso, rounding, turmeric, doses] = JSON.parse(
  readFileSync('tests/reference/ranking/ranking-tests.json', 'utf8'),
).cases;

describe('Friedman', () => {
  test('with ties: rounding first base (Hollander and Wolfe 1973)', () => {
    const found = friedman(rounding.scores);
    expectAllClose(found.rankSums, rounding.rank_sums, 1e-14);
    expectClose(found.statistic, rounding.F_tie_corrected, 1e-7);
    expectClose(found.p, rounding.p, 1e-10);
    expectClose(friedman(rounding.ranks).statistic, found.statistic!, 1e-14);
  });

  test('the turmeric panel, and its least difference as the formula gives it', () => {
    const found = friedman(turmeric.ranks);
    expectAllClose(found.rankSums, turmeric.rank_sums, 1e-14);
    expectClose(found.statistic, turmeric.F, 1e-7);
    expectClose(found.leastDifference, turmeric.LSD_correct, 5e-5); // printed with 1.96
    expect(found.pExact === null || found.pExact < 1e-6).toBe(true);
  });

  test('the ISO 8587:1988 example: eight assessors made to have its rank sums', () => {
    const ranks = [
      [1, 4, 5, 3, 2],
      [1, 4, 5, 3, 2],
      [1, 5, 3, 4, 2],
      [3, 4, 5, 1, 2],
      [2, 5, 3, 4, 1],
      [2, 3, 5, 4, 1],
      [2, 4, 5, 1, 3],
      [5, 2, 1, 3, 4],
    ];
    const found = friedman(ranks);
    expectAllClose(found.rankSums, Object.values(iso.rank_sums), 1e-14);
    expectClose(found.statistic, iso.F, 1e-12);
    expectClose(found.p, iso.p, 1e-9);
    expectClose(found.leastDifference, iso.LSD_rank_sums_05, 1e-5);
    const differ = found.pairs
      .filter((pair) => pair.p < 0.05)
      .map(({ a, b }) => `${'ABCDE'[a]}-${'ABCDE'[b]}`);
    expect(differ.sort()).toEqual([...iso.differ_at_05].sort());
  });

  test.each<{ rows: number[][]; exact?: number; friedman: [number, number] }>(stored.friedman)(
    'against SciPy and, where small, every order counted out (%#)',
    ({ rows, exact, friedman: [statistic, p] }) => {
      const found = friedman(rows);
      expectClose(found.statistic, statistic!, 1e-10);
      expectClose(found.p, p!, 1e-10);
      if (exact !== undefined) expectClose(found.pExact, exact, 1e-10);
    },
  );

  test('tabled exact values: 3 assessors who agree on 3 mixes 1/36, 4 assessors 1/216', () => {
    expectClose(
      friedman([
        [1, 2, 3],
        [1, 2, 3],
        [1, 2, 3],
      ]).pExact,
      1 / 36,
      1e-12,
    );
    const four = friedman([
      [1, 2, 3],
      [1, 2, 3],
      [1, 2, 3],
      [1, 2, 3],
    ]);
    expectClose(four.pExact, 1 / 216, 1e-12);
    expectClose(four.concordance, 1, 1e-14);
    expect(four.f).toBeNull();
  });

  test('names of mixes and assessors do not matter', () => {
    const rows: number[][] = stored.friedman[1].rows;
    const found = friedman(rows);
    const other = friedman([...rows].reverse().map((row) => [...row].reverse()));
    expectClose(other.statistic, found.statistic!, 1e-12);
    expectClose(other.pExact, found.pExact!, 1e-12);
    expectAllClose(other.rankSums, [...found.rankSums].reverse(), 1e-14);
  });

  test('all alike is said, large panels are not counted out, gaps are refused', () => {
    expect(
      friedman([
        [2, 2, 2],
        [5, 5, 5],
      ]),
    ).toMatchObject({ statistic: null, p: null, reason: expect.stringContaining('alike') });
    expect(friedman(stored.friedman[7].rows).pExact).toBeNull();
    expect(() => friedman([[1, 2], [1]])).toThrow(/scores/);
    expect(() => friedman([[1, Number.NaN]])).toThrow(/scores/);
  });
});

describe('Page', () => {
  test('the worked example', () => {
    const found = pageTrend(doses.ranks, [1, 2, 3, 4]);
    expectClose(found.statistic, doses.L, 1e-14);
    expectClose(found.expected, doses.E_L, 1e-14);
    expectClose(found.standardDeviation ** 2, doses.Var_L, 1e-12);
    expectClose(found.z, doses.z, 1e-6);
    expectClose(found.p, doses.p_one_sided, 1e-6);
  });

  test.each<{ rows: number[][]; statistic: number; p: number; exact: number }>(stored.page)(
    'against SciPy, exact distribution included (%#)',
    ({ rows, statistic, p, exact }) => {
      const found = pageTrend(
        rows,
        rows[0]!.map((_, j) => j),
      );
      expectClose(found.statistic, statistic, 1e-14);
      expectClose(found.p, p, 1e-9);
      expectClose(found.pExact, exact, 1e-9);
    },
  );

  test('with ties the exact distribution has the mean and variance that z uses', () => {
    const rows = [
      [1, 2, 2, 3],
      [1, 1, 2, 2],
      [4, 1, 2, 3],
    ];
    const up = pageTrend(rows, [1, 2, 3, 4]);
    const down = pageTrend(rows, [4, 3, 2, 1]);
    expectClose(up.statistic + down.statistic, 2 * up.expected, 1e-14);
    expectClose(up.z, -down.z!, 1e-12);
    expect(up.pExact! + down.pExact!).toBeGreaterThan(1); // both tails hold what was seen
  });

  test('no expected order, or no order given, is said', () => {
    expect(
      pageTrend(
        [
          [1, 2],
          [2, 1],
        ],
        [1, 1],
      ).reason,
    ).toMatch(/no order/);
    expect(() => pageTrend([[1, 2]], [1])).toThrow(/order/);
  });
});

test('midranks share places', () => {
  expect(midranks([3, 1, 3, 2, 3])).toEqual([4, 1, 4, 2, 4]);
});
