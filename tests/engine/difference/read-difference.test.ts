import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { fewestCorrect } from '../../../engine/difference/critical.ts';
import { DIFFERENCE_METHODS, type DifferenceMethod, factsOf } from '../../../engine/difference/methods.ts';
import { chanceCorrect, chanceWrong, dPrimeAt } from '../../../engine/difference/psychometric.ts';
import { readDifference } from '../../../engine/difference/read-difference.ts';
import { expectClose } from './closeness.ts';

const load = (name: string) => JSON.parse(readFileSync(`tests/reference/difference/${name}.json`, 'utf8'));
const r = load('difference');
const tables = load('discrimination-tables');
const thurstone = load('thurstone-dprime');

test('chances of a correct answer against R, which integrates the definitions themselves', () => {
  let worst = 0;
  for (const method of DIFFERENCE_METHODS)
    r.dPrimes.forEach((d: number, i: number) => {
      const expected = r.psychometric[method][i];
      worst = Math.max(worst, expectClose(chanceCorrect(method, d), expected, 1e-12));
      expectClose(chanceWrong(method, d), 1 - expected, 1e-10, 1e-14);
    });
  console.log(`psychometric functions against R: worst relative error ${worst.toExponential(1)}`);
});

test('chances of a correct answer against the stored table (five digits)', () => {
  const columns: [DifferenceMethod, string][] = [
    ['triangle', 'triangle'],
    ['duo-trio', 'duo_trio'],
    ['two-afc', 'two_AFC'],
    ['three-afc', 'three_AFC'],
    ['tetrad', 'tetrad_unspecified'],
  ];
  for (const [method, column] of columns)
    thurstone.d_prime.forEach((d: number, i: number) => {
      expectClose(chanceCorrect(method, d), thurstone[column][i], 0, 5.1e-6);
    });
});

test('the written slopes are the derivatives, and the inverse returns d′', () => {
  for (const method of DIFFERENCE_METHODS)
    for (const d of [0.05, 0.4, 1, 2, 3.7, 6]) {
      const h = 1e-3;
      const f = (at: number) => chanceCorrect(method, at);
      const slope = (f(d - 2 * h) - 8 * f(d - h) + 8 * f(d + h) - f(d + 2 * h)) / (12 * h);
      expectClose(factsOf(method).slope(d), slope, 1e-9, 1e-12);
      expectClose(dPrimeAt(method, chanceCorrect(method, d)), d, 1e-9);
    }
});

test('readings against R: exact p, intervals, d′ with standard error and likelihood interval, fewest correct', () => {
  const worst: Record<string, number> = {};
  const note = (name: string, error: number) => {
    worst[name] = Math.max(worst[name] ?? 0, error);
  };
  for (const e of r.readings) {
    const found = readDifference(e.method, e.trials, e.correct);
    note('p', expectClose(found.p, e.p, 1e-12));
    note('proportion', expectClose(found.proportionAbove, e.above, 1e-12));
    note('interval', expectClose(found.interval[0], e.interval[0], 1e-9, 1e-12));
    note('interval', expectClose(found.interval[1], e.interval[1], 1e-9, 1e-12));
    note("d'", expectClose(found.dPrime, e.dPrime, 1e-8));
    note('error', expectClose(found.dPrimeStandardError, e.error, 1e-7));
    note("d' low", expectClose(found.dPrimeInterval[0], e.dPrimeLow, 1e-6, 1e-6));
    note("d' high", expectClose(found.dPrimeInterval[1], e.dPrimeHigh, 1e-7));
    expect(found.needed).toBe(e.needed);
  }
  console.log('readings against R, worst relative errors:', worst);
});

test('the stored worked examples', () => {
  const names: Record<string, DifferenceMethod> = { '2-AFC': 'two-afc', '3-AFC': 'three-afc' };
  for (const { test: name, n, correct, d_prime, se } of thurstone.worked) {
    const found = readDifference(names[name] ?? name, n, correct);
    expectClose(found.dPrime, d_prime, 0, 5.1e-5);
    expectClose(found.dPrimeStandardError, se, 0, 5.1e-5);
  }
  for (const { test: name, n, correct, p_value_exact, pd_hat } of tables.worked) {
    const found = readDifference(names[name] ?? name, n, correct);
    expectClose(found.p, p_value_exact, 1e-12);
    expectClose(found.proportionAbove, pd_hat, 0, 5.1e-7);
  }
});

/** Fewest correct in the triangle test at 0.05, n = 6 to 50, as ISO 4120 tabulates them; from memory. */
const ISO_4120 = [
  5, 5, 6, 6, 7, 7, 8, 8, 9, 9, 9, 10, 10, 11, 11, 12, 12, 12, 13, 13, 14, 14, 15, 15, 15, 16, 16, 17, 17, 17,
  18, 18, 19, 19, 19, 20, 20, 20, 21, 21, 22, 22, 22, 23, 23,
];

test('fewest correct answers: ISO 4120 (from memory) and the stored tables, n = 3 to 100', () => {
  expect(ISO_4120).toHaveLength(45);
  ISO_4120.forEach((needed, i) => {
    expect(fewestCorrect(i + 6, 1 / 3, 0.05)).toBe(needed);
  });
  const check = (table: string, chance: number, tails: number) => {
    for (const [n, row] of Object.entries(tables[table] as Record<string, (number | null)[]>))
      row.forEach((needed, i) => {
        expect(fewestCorrect(Number(n), chance, tables.columns_alpha[i] / tails)).toBe(needed);
      });
  };
  check('minimum_correct_p_one_third', 1 / 3, 1);
  check('minimum_correct_p_one_half_one_sided', 1 / 2, 1);
  check('minimum_correct_p_one_half_two_sided', 1 / 2, 2);
});

test('a number whose chance is alpha itself counts (1/4 of both right in two choices)', () => {
  expect(fewestCorrect(2, 0.5, 0.25)).toBe(2);
  expect(fewestCorrect(3, 0.5, 0.125)).toBe(3);
  expect(fewestCorrect(4, 1 / 3, 1 / 81)).toBe(4);
});

test('more correct answers never weaken a reading', () => {
  const cases = fc.tuple(fc.constantFrom(...DIFFERENCE_METHODS), fc.integer({ min: 1, max: 60 }));
  fc.assert(
    fc.property(cases, ([method, trials]) => {
      let before = readDifference(method, trials, 0);
      for (let correct = 1; correct <= trials; correct++) {
        const now = readDifference(method, trials, correct);
        expect(now.p).toBeLessThanOrEqual(before.p);
        expect(now.proportionAbove).toBeGreaterThanOrEqual(before.proportionAbove);
        expect(now.interval[0]).toBeGreaterThanOrEqual(before.interval[0]);
        expect(now.dPrimeInterval[0]).toBeGreaterThanOrEqual(before.dPrimeInterval[0]);
        expect(now.dPrime ?? Infinity).toBeGreaterThanOrEqual(before.dPrime!);
        before = now;
      }
    }),
    { seed: 9, numRuns: 12 },
  );
});

test('at or below guessing d′ is 0, all correct it is null, its standard error null in both cases', () => {
  for (const method of DIFFERENCE_METHODS) {
    const [low, all] = [readDifference(method, 12, 3), readDifference(method, 12, 12)];
    expect([low.dPrime, low.dPrimeStandardError, low.dPrimeInterval[0]]).toEqual([0, null, 0]);
    expect([all.dPrime, all.dPrimeStandardError, all.dPrimeInterval[1]]).toEqual([null, null, null]);
    expect(all.dPrimeInterval[0]).toBeGreaterThan(1);
  }
  expect(readDifference('triangle', 2, 2).needed).toBeNull();
});

test('a failed test is never read as sameness, and few correct as nothing but a fault', () => {
  const failed = readDifference('triangle', 24, 12).says;
  expect(failed).toContain('a difference is not shown');
  expect(failed).toContain('does not show that the two are the same');
  expect(readDifference('triangle', 24, 13).says).toContain('people can tell the two apart');
  expect(readDifference('triangle', 24, 2).says).toContain('swapped codes');
  expect(readDifference('two-afc', 4, 4).says).toContain('nothing may be claimed');
});

test('misuse is refused by name', () => {
  expect(() => readDifference('triangle', 0, 0)).toThrow(/trials/);
  expect(() => readDifference('triangle', 10, 11)).toThrow(/correct: found 11/);
  expect(() => readDifference('triangle', 10, 2.5)).toThrow(/correct/);
  expect(() => readDifference('triangle', 10, 2, { alpha: 0 })).toThrow(/alpha/);
  expect(() => readDifference('guess' as DifferenceMethod, 10, 2)).toThrow(/method: found "guess"/);
});
