import fc from 'fast-check';
import { expect, test } from 'vitest';
import { minimiseBySimplex } from '../../../engine/numeric/nelder-mead.ts';
import { minimiseWithin } from '../../../engine/numeric/quasi-newton.ts';
import { expectClose } from './closeness.ts';

/** Rosenbrock's valley; least value 0 at ones. */
function valley(x: readonly number[]): number {
  let sum = 0;
  for (let i = 1; i < x.length; i++) sum += 100 * (x[i]! - x[i - 1]! ** 2) ** 2 + (1 - x[i - 1]!) ** 2;
  return sum;
}

const all = (n: number, value: number) => new Array<number>(n).fill(value);

test.each([2, 3, 5])('the valley in %i dimensions, free and with a bound in the way', (n) => {
  const start = all(n, -1).with(0, 0.5);
  for (const most of [2, 0.8]) {
    const bounds = { low: all(n, -2), high: all(n, most) };
    const quick = minimiseWithin({ value: valley, ...bounds }, start);
    const sturdy = minimiseBySimplex(valley, start, bounds);
    expect([quick.status, sturdy.status]).toEqual(['converged', 'converged']);
    expectClose(quick.value, sturdy.value, 1e-7, 1e-12);
    if (most === 2) for (const x of [...quick.x, ...sturdy.x]) expectClose(x, 1, 0, 1e-6);
    expect(quick.evaluations).toBeLessThan(sturdy.evaluations);
  }
});

test('quadratics in a box end where no coordinate can better it (Karush, Kuhn and Tucker)', () => {
  const n = 4;
  const number = fc.double({ min: -3, max: 3, noNaN: true });
  fc.assert(
    fc.property(
      fc.array(number, { minLength: 16, maxLength: 16 }),
      fc.array(number, { minLength: 4, maxLength: 4 }),
      (a, b) => {
        const row = (x: readonly number[], i: number) => x.reduce((sum, v, j) => sum + a[i * n + j]! * v, 0);
        const value = (x: readonly number[]) =>
          x.reduce((sum, v, i) => sum + row(x, i) ** 2 / 2 + (v * v) / 2 - b[i]! * v, 0);
        const gradient = (x: readonly number[]) =>
          x.map((v, j) => v - b[j]! + x.reduce((sum, _, i) => sum + row(x, i) * a[i * n + j]!, 0));
        const found = minimiseWithin({ value, gradient, low: all(n, -0.5), high: all(n, 0.5) }, all(n, 0));
        expect(found.status).toBe('converged');
        gradient(found.x).forEach((slope, i) => {
          const x = found.x[i]!;
          if (x > -0.5 && x < 0.5) expect(Math.abs(slope)).toBeLessThan(1e-6);
          else expect(Math.sign(slope)).not.toBe(Math.sign(x));
        });
        const rough = minimiseWithin({ value, low: all(n, -0.5), high: all(n, 0.5) }, all(n, 0));
        expectClose(rough.value, found.value, 1e-8, 1e-9);
      },
    ),
    { seed: 8, numRuns: 60 },
  );
});

test('the simplex needs no slopes', () => {
  const kink = minimiseBySimplex(
    ([a, b]) => 3 * Math.abs(a! - 3) + Math.abs(b! + 1) + Math.max(a!, 0),
    [0, 0],
  );
  expectClose(kink.x[0]!, 3, 1e-6);
  expectClose(kink.x[1]!, -1, 1e-6);
});

test('coordinates that bounds hold fast stay put; running out is said', () => {
  const fixed = minimiseWithin(
    { value: ([a, b]) => (a! - 2) ** 2 + b! * b!, low: [0, 1], high: [5, 1] },
    [0, 1],
  );
  expectClose(fixed.x[0]!, 2, 1e-7);
  expect([fixed.x[1], fixed.status]).toEqual([1, 'converged']);
  const short = minimiseWithin({ value: valley, low: all(6, -2), high: all(6, 2) }, all(6, -1), {
    evaluations: 30,
  });
  expect(short.status).toBe('stopped');
  expect(minimiseBySimplex(valley, all(6, -1), { evaluations: 50 }).status).toBe('stopped');
});

test('misuse is refused by name', () => {
  expect(() => minimiseWithin({ value: valley, low: [0], high: [1] }, [0, 0])).toThrow(/start/);
  expect(() => minimiseWithin({ value: () => Number.NaN, low: [0], high: [1] }, [0])).toThrow(/finite value/);
  expect(() => minimiseBySimplex(valley, [])).toThrow(/start/);
});
