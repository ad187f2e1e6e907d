import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { exactDot } from '../../../engine/numeric/exact-dot.ts';
import { normalDensity } from '../../../engine/numeric/normal.ts';
import { gaussLegendre, integrate } from '../../../engine/numeric/quadrature.ts';
import { findRoot } from '../../../engine/numeric/root.ts';
import { expectClose } from './closeness.ts';

const { integrals } = JSON.parse(readFileSync('tests/reference/numeric/numeric.json', 'utf8'));

test('the 15-point rule is exact for polynomials up to degree 22, Gauss and Legendre up to 2 n - 1', () => {
  for (let degree = 0; degree <= 22; degree += 2) {
    const { value } = integrate((x) => x ** degree, -1, 1, { pieces: 1 });
    expectClose(value, 2 / (degree + 1), 2e-15);
  }
  for (const points of [1, 2, 7, 20, 64]) {
    const { x, weight } = gaussLegendre(points);
    for (let degree = 0; degree < 2 * points; degree += 2) {
      const sum = x.reduce((total, v, i) => total + weight[i]! * v ** degree, 0);
      expectClose(sum, 2 / (degree + 1), 1e-13);
    }
  }
});

test('integrals against SciPy and known values', () => {
  expectClose(integrate((x) => Math.exp(-x) * Math.cos(20 * x), 0, 5).value, integrals.damped, 1e-11);
  expectClose(integrate((x) => 1 / (1e-4 + x * x), -1, 1).value, integrals.peak, 1e-11);
  expectClose(integrate(normalDensity, -12, 12).value, 1, 1e-13);
  expectClose(integrate((x) => 1 / Math.sqrt(x), 0, 1, { tolerance: 1e-9 }).value, 2, 1e-9);
  expectClose(integrate(Math.sin, 2, 2).value, 0, 0);
});

test('what does not settle is said, infinite limits are refused', () => {
  const wild = integrate((x) => (Math.floor(x * 1e6) % 2 === 0 ? 1 : 0), 0, 1, { pieces: 20 });
  expect(wild.status).toBe('stopped');
  expect(wild.error).toBeGreaterThan(1e-6);
  expect(() => integrate(Math.sin, 0, Infinity)).toThrow(/finite limits/);
  expect(() => gaussLegendre(0)).toThrow(/points/);
});

test('roots to the last digits, also of flat, steep and broken functions', () => {
  expectClose(findRoot((x) => Math.cos(x) - x, 0, 1).x, 0.7390851332151607, 1e-15);
  expectClose(findRoot((x) => x ** 3 - 2 * x - 5, 2, 3).x, 2.0945514815423265, 1e-15);
  expectClose(findRoot((x) => Math.exp(x) - 1e10, -10, 100).x, Math.log(1e10), 1e-15);
  expectClose(findRoot((x) => (x - 1) ** 9, 0, 3).x, 1, 1e-10);
  expectClose(findRoot((x) => (x < 0.3 ? -1 : 1), 0, 1).x, 0.3, 1e-14);
  expect(findRoot((x) => x, 0, 1).x).toBe(0);
  expect(findRoot((x) => x - 1, 0, 1).x).toBe(1);
  expect(findRoot((x) => Math.cos(x) - x, 0, 1).evaluations).toBeLessThan(12);
  expect(() => findRoot((x) => x * x + 1, 0, 1)).toThrow(/changes sign/);
  expect(() => findRoot(() => Number.NaN, 0, 1)).toThrow(/changes sign/);
});

test('an exact dot product keeps what plain sums lose', () => {
  const values = (v: number[]) => ({ values: v, at: 0, step: 1 });
  expect(exactDot(0, values([1e16, 1, -1e16]), values([1, 1, 1]), 3)).toBe(1);
  const x = 1 + 2 ** -30;
  expect(exactDot(-1, values([x]), values([x]), 1)).toBe(2 ** -29 + 2 ** -60);
  expect(exactDot(0, { values: [1, 9, 2, 9], at: 0, step: 2 }, values([3, 4]), 2)).toBe(11);
});
