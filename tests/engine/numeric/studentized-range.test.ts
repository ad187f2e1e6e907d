import { readFileSync } from 'node:fs';
import cdf from '@stdlib/stats-base-dists-studentized-range-cdf';
import quantile from '@stdlib/stats-base-dists-studentized-range-quantile';
import { expect, test } from 'vitest';
import { studentQuantile, studentTwoSided } from '../../../engine/numeric/student.ts';
import {
  studentizedRangeQuantile,
  studentizedRangeUpper,
} from '../../../engine/numeric/studentized-range.ts';
import { expectClose } from './closeness.ts';

test('of two means it is the two-sided tail of t, also far out', () => {
  for (const df of [1, 1.5, 2, 3, 7.3, 22, 400, 1300, 1e5, 1e7])
    for (const q of [0.01, 0.5, 2, 4, 8, 20, 40, 200, 3000])
      expectClose(studentizedRangeUpper(q, 2, df), studentTwoSided(q / Math.SQRT2, df), 2e-10);
});

test("against R's ptukey, which itself strays from SciPy by 2e-6 at three degrees of freedom", () => {
  const r = JSON.parse(readFileSync('tests/reference/numeric/range-tail.json', 'utf8'));
  let worst = 0;
  r.p.forEach((p: number, i: number) => {
    const found = studentizedRangeUpper(r.q[i], r.k[i], r.df[i]);
    worst = Math.max(worst, Math.abs(found - p));
    expectClose(found, p, 0, 3e-6);
  });
  console.log(`studentized range against R: largest difference ${worst.toExponential(1)}`);
});

test("against SciPy's double integral, from one degree of freedom on", () => {
  const { rows } = JSON.parse(readFileSync('tests/reference/numeric/range-tail-scipy.json', 'utf8'));
  let worst = 0;
  for (const { q, k, df, p } of rows) {
    const found = studentizedRangeUpper(q, k, df);
    worst = Math.max(worst, Math.abs(found - p));
    expectClose(found, p, 0, 1e-9);
  }
  console.log(`studentized range against SciPy: largest difference ${worst.toExponential(1)}`);
});

test('falls in q, rises in the number of means, and ends at one and zero', () => {
  for (const df of [1.2, 6, 60])
    for (let q = 0.25; q < 60; q *= 1.5) {
      expect(studentizedRangeUpper(q * 1.5, 6, df)).toBeLessThan(studentizedRangeUpper(q, 6, df));
      expect(studentizedRangeUpper(q, 7, df)).toBeGreaterThanOrEqual(studentizedRangeUpper(q, 6, df));
    }
  expect(studentizedRangeUpper(0, 5, 10)).toBe(1);
  expect(studentizedRangeUpper(200, 5, Number.POSITIVE_INFINITY)).toBe(0);
  expect(() => studentizedRangeUpper(1, 1, 10)).toThrow(/k/);
  expect(() => studentizedRangeUpper(1, 3, 0)).toThrow(/df/);
});

test('against a third routine where it is near the truth (three degrees of freedom and more)', () => {
  for (const [q, k, df] of [
    [3.5, 4, 20],
    [10, 4, 20],
    [5, 12, 200],
    [3, 3, 5],
  ] as const)
    expectClose(studentizedRangeUpper(q, k, df), 1 - cdf(q, k, df), 0, 1e-7);
  for (const [p, k, df] of [
    [0.95, 4, 20],
    [0.95, 12, 330],
    [0.99, 3, 5],
  ] as const)
    expectClose(studentizedRangeQuantile(p, k, df), quantile(p, k, df), 1e-6);
});

test('quantiles invert the tail, and of two means are those of t', () => {
  for (const df of [1.5, 3, 17.3, 400, Number.POSITIVE_INFINITY])
    for (const p of [0.001, 0.3, 0.95, 0.9999]) {
      expectClose(studentizedRangeUpper(studentizedRangeQuantile(p, 5, df), 5, df), 1 - p, 1e-9);
      expectClose(studentizedRangeQuantile(p, 2, df), Math.SQRT2 * studentQuantile((1 + p) / 2, df), 1e-8);
    }
  expect([studentizedRangeQuantile(0, 3, 5), studentizedRangeQuantile(1, 3, 5)]).toEqual([0, Infinity]);
});
