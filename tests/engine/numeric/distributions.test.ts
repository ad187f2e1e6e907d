import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  betaCdf,
  betaQuantile,
  binomialCdf,
  binomialMass,
  binomialUpper,
} from '../../../engine/numeric/binomial.ts';
import { chiSquareQuantile, chiSquareUpper } from '../../../engine/numeric/chi-square.ts';
import { fisherQuantile, fisherUpper } from '../../../engine/numeric/fisher.ts';
import { normalCdf, normalDensity, normalQuantile, normalUpper } from '../../../engine/numeric/normal.ts';
import { studentQuantile, studentTwoSided, studentUpper } from '../../../engine/numeric/student.ts';
import { expectClose } from './closeness.ts';

const r = JSON.parse(readFileSync('tests/reference/numeric/distributions.json', 'utf8'));

const KERNELS: Record<string, (...x: number[]) => number> = {
  normalUpper: (x) => normalUpper(x!),
  normalQuantile: (p) => normalQuantile(p!),
  studentUpper: (t, df) => studentUpper(t!, df!),
  studentQuantile: (p, df) => studentQuantile(p!, df!),
  fisherUpper: (f, a, b) => fisherUpper(f!, a!, b!),
  fisherQuantile: (p, a, b) => fisherQuantile(p!, a!, b!),
  chiSquareUpper: (x, df) => chiSquareUpper(x!, df!),
  chiSquareQuantile: (p, df) => chiSquareQuantile(p!, df!),
  betaCdf: (x, a, b) => betaCdf(x!, a!, b!),
  betaQuantile: (p, a, b) => betaQuantile(p!, a!, b!),
  binomialUpper: (k, n, p) => binomialUpper(k!, n!, p!),
  binomialCdf: (k, n, p) => binomialCdf(k!, n!, p!),
  binomialMass: (k, n, p) => binomialMass(k!, n!, p!),
};

test.each(Object.keys(KERNELS))('%s against R to ten digits, far tails included', (name) => {
  const { value, ...columns } = r[name] as Record<string, number[]>;
  let worst = 0;
  value!.forEach((expected, i) => {
    const at = Object.values(columns).map((column) => column[i]!);
    const error = expectClose(KERNELS[name]!(...at), expected, 1e-10, 1e-290);
    if (Math.abs(expected) > 1e-280) worst = Math.max(worst, error);
  });
  console.log(`${name}: ${value!.length} values, worst relative error ${worst.toExponential(1)}`);
});

test('infinite degrees of freedom are those of the normal and of chi-square', () => {
  for (const x of [0.01, 0.7, 2, 9]) {
    expectClose(studentUpper(x, Infinity), normalUpper(x), 1e-14);
    expectClose(fisherUpper(x, 3, Infinity), chiSquareUpper(3 * x, 3), 1e-14);
    expectClose(studentUpper(x, 1e9), normalUpper(x), 1e-5);
  }
  expectClose(studentQuantile(0.975, Infinity), normalQuantile(0.975), 1e-14);
  expectClose(fisherQuantile(0.95, 4, Infinity), chiSquareQuantile(0.95, 4) / 4, 1e-14);
});

test('identities: F of one is t squared, chi-square of one is z squared, binomial is beta', () => {
  const point = fc.record({
    x: fc.double({ min: 0.01, max: 30, noNaN: true }),
    df: fc.double({ min: 0.6, max: 5000, noNaN: true }),
    n: fc.integer({ min: 1, max: 300 }),
    p: fc.double({ min: 0.001, max: 0.999, noNaN: true }),
  });
  fc.assert(
    fc.property(point, fc.integer({ min: 0, max: 300 }), ({ x, df, n, p }, k) => {
      expectClose(fisherUpper(x * x, 1, df), studentTwoSided(x, df), 1e-11, 1e-290);
      expectClose(chiSquareUpper(x * x, 1), 2 * normalUpper(x), 1e-11, 1e-290);
      expectClose(studentUpper(x, df) * 2, studentTwoSided(x, df), 1e-14);
      if (k > n) return;
      expectClose(binomialUpper(k, n, p) + (k > 0 ? binomialCdf(k - 1, n, p) : 0), 1, 1e-12);
      expectClose(
        binomialUpper(k, n, p) - (k < n ? binomialUpper(k + 1, n, p) : 0),
        binomialMass(k, n, p),
        1e-9,
        1e-13,
      );
    }),
    { seed: 3, numRuns: 400 },
  );
});

test('quantiles invert their tails', () => {
  const point = fc.record({
    p: fc.double({ min: 1e-6, max: 1 - 1e-6, noNaN: true }),
    a: fc.double({ min: 1, max: 400, noNaN: true }),
    b: fc.double({ min: 1, max: 400, noNaN: true }),
  });
  fc.assert(
    fc.property(point, ({ p, a, b }) => {
      expectClose(normalCdf(normalQuantile(p)), p, 1e-12);
      expectClose(studentUpper(-studentQuantile(p, a), a), p, 1e-11);
      expectClose(betaCdf(betaQuantile(p, a, b), a, b), p, 1e-9);
      expectClose(fisherUpper(fisherQuantile(p, a, b), a, b), 1 - p, 1e-9);
      expectClose(chiSquareUpper(chiSquareQuantile(p, a), a), 1 - p, 1e-9);
    }),
    { seed: 5, numRuns: 300 },
  );
});

test('the density of the normal is the slope of its distribution', () => {
  const h = 1e-4;
  for (const x of [-3, -0.4, 0, 1.7])
    expectClose((normalCdf(x + h) - normalCdf(x - h)) / (2 * h), normalDensity(x), 1e-7);
});

test('edges: certain, impossible, nothing; and arguments outside the domain are refused by name', () => {
  expect([normalCdf(-Infinity), normalCdf(Infinity), normalQuantile(0), normalQuantile(1)]).toEqual([
    0,
    1,
    -Infinity,
    Infinity,
  ]);
  expect([fisherUpper(0, 2, 3), fisherUpper(Infinity, 2, 3), chiSquareUpper(-1, 2)]).toEqual([1, 0, 1]);
  expect([studentQuantile(0.5, 3), studentQuantile(0, 3), fisherQuantile(1, 2, 3)]).toEqual([
    0,
    -Infinity,
    Infinity,
  ]);
  expect([
    binomialUpper(0, 5, 0.2),
    binomialUpper(6, 5, 0.2),
    binomialCdf(5, 5, 0.2),
    binomialCdf(-1, 5, 0.2),
  ]).toEqual([1, 0, 1, 0]);
  expect([binomialMass(5, 5, 1), binomialMass(3, 5, 1), binomialMass(0, 5, 0)]).toEqual([1, 0, 1]);
  expect(() => normalCdf(Number.NaN)).toThrow(/x/);
  expect(() => normalQuantile(1.2)).toThrow(/p: found 1.2/);
  expect(() => studentUpper(1, 0)).toThrow(/df/);
  expect(() => fisherUpper(1, 2, -3)).toThrow(/denDf/);
  expect(() => chiSquareUpper(1, Number.NaN)).toThrow(/df/);
  expect(() => binomialUpper(1, 2.5, 0.5)).toThrow(/n: found 2.5/);
  expect(() => betaQuantile(-0.1, 2, 2)).toThrow(/p/);
});
