import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { studentTwoSided } from '../../../../engine/numeric/student.ts';
import { rangeTail } from '../../../../engine/panel/mixed/range-tail.ts';
import { expectClose } from './closeness.ts';

test('of two means it is the two-sided tail of t, also far out', () => {
  for (const df of [1, 1.5, 2, 3, 7.3, 22, 400, 1300, 1e5, 1e7])
    for (const q of [0.01, 0.5, 2, 4, 8, 20, 40])
      expectClose(rangeTail(q, 2, df), studentTwoSided(q / Math.SQRT2, df), 2e-10);
});

test("against R's ptukey, which itself strays from SciPy by 2e-6 at three degrees of freedom", () => {
  const r = JSON.parse(readFileSync('tests/reference/mixed/range-tail.json', 'utf8'));
  let worst = 0;
  r.p.forEach((p: number, i: number) => {
    const found = rangeTail(r.q[i], r.k[i], r.df[i]);
    worst = Math.max(worst, Math.abs(found - p));
    expectClose(found, p, 0, 3e-6);
  });
  console.log(`studentized range against R: largest difference ${worst.toExponential(1)}`);
});

test("against SciPy's double integral, from one degree of freedom on", () => {
  const { rows } = JSON.parse(readFileSync('tests/reference/mixed/range-tail-scipy.json', 'utf8'));
  let worst = 0;
  for (const { q, k, df, p } of rows) {
    const found = rangeTail(q, k, df);
    worst = Math.max(worst, Math.abs(found - p));
    expectClose(found, p, 0, 1e-9);
  }
  console.log(`studentized range against SciPy: largest difference ${worst.toExponential(1)}`);
});

test('falls in q, rises in the number of means, and ends at one and zero', () => {
  for (const df of [1.2, 6, 60])
    for (let q = 0.25; q < 60; q *= 1.5) {
      expect(rangeTail(q * 1.5, 6, df)).toBeLessThan(rangeTail(q, 6, df));
      expect(rangeTail(q, 7, df)).toBeGreaterThanOrEqual(rangeTail(q, 6, df));
    }
  expect(rangeTail(0, 5, 10)).toBe(1);
  expect(rangeTail(200, 5, Number.POSITIVE_INFINITY)).toBe(0);
  expect(() => rangeTail(1, 1, 10)).toThrow(/k/);
  expect(() => rangeTail(1, 3, 0)).toThrow(/df/);
});
