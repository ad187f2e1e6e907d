import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { fewestCorrect } from '../../../engine/difference/critical.ts';
import { smallestDetectable } from '../../../engine/difference/detectable.ts';
import { DIFFERENCE_METHODS, type DifferenceMethod, factsOf } from '../../../engine/difference/methods.ts';
import { planDifference } from '../../../engine/difference/plan-difference.ts';
import { chanceCorrect } from '../../../engine/difference/psychometric.ts';
import { planSimilarity, readSimilarity } from '../../../engine/difference/similarity.ts';
import { binomialCdf, binomialUpper } from '../../../engine/numeric/binomial.ts';
import { expectClose } from './closeness.ts';

const load = (name: string) => JSON.parse(readFileSync(`tests/reference/difference/${name}.json`, 'utf8'));
const r = load('difference');
const tables = load('discrimination-tables');
const thurstone = load('thurstone-dprime');

test('numbers of tasters against brute force in R', () => {
  for (const e of r.plans) {
    const found = planDifference(e.method, { dPrime: e.dPrime, alpha: e.alpha, power: e.goal });
    expect([found.trials, found.firstTrials, found.needed]).toEqual([e.trials, e.firstTrials, e.needed]);
    expectClose(found.power, e.power, 1e-11);
  }
});

test('first numbers for 80 % power at 0.05 against the stored table by d′', () => {
  const names: [DifferenceMethod, string][] = [
    ['triangle', 'triangle'],
    ['duo-trio', 'duo-trio'],
    ['two-afc', '2-AFC'],
    ['three-afc', '3-AFC'],
    ['tetrad', 'tetrad'],
  ];
  const stored = thurstone.assessors_for_80_percent_power_alpha_05;
  for (const [method, name] of names)
    for (const [d, n] of Object.entries(stored[name]))
      expect(planDifference(method, { dPrime: Number(d) }).firstTrials).toBe(n);
});

test('first numbers and numbers that hold against the stored tables by proportion that can tell', () => {
  const first = tables.required_assessors_first_n_reaching_power;
  for (const [method, table] of [
    ['triangle', first.one_third],
    ['duo-trio', first.one_half],
  ] as const)
    for (const [above, rows] of Object.entries(table as Record<string, Record<string, number[]>>))
      for (const [alpha, row] of Object.entries(rows))
        row.forEach((n, i) => {
          const power = 1 - first.columns_beta[i];
          if (power <= Number(alpha)) return;
          const plan = planDifference(method, {
            proportionAbove: Number(above),
            alpha: Number(alpha),
            power,
          });
          expect(plan.firstTrials).toBe(n);
        });
  const held = tables.required_assessors_power_held_for_all_larger_n;
  for (const [above, rows] of Object.entries(held.triangle as Record<string, Record<string, number[]>>))
    for (const [alpha, row] of Object.entries(rows))
      row.forEach((n, i) => {
        const power = 1 - held.columns_beta[i];
        const plan = planDifference('triangle', {
          proportionAbove: Number(above),
          alpha: Number(alpha),
          power,
        });
        expect(plan.trials).toBe(n);
      });
});

test('the power holds from `trials` on and fails just below; just below a tooth one taster more is worse', () => {
  for (const method of DIFFERENCE_METHODS) {
    const { chance } = factsOf(method);
    const share = chanceCorrect(method, 1.2);
    const power = (n: number) => {
      const needed = fewestCorrect(n, chance, 0.05);
      return needed === null ? 0 : binomialUpper(needed, n, share);
    };
    const plan = planDifference(method, { dPrime: 1.2 });
    expect(power(plan.trials! - 1)).toBeLessThan(0.8);
    for (let n = plan.trials!; n < plan.trials! + 200; n++) expect(power(n)).toBeGreaterThanOrEqual(0.8);
    expect(plan.firstTrials).toBeLessThanOrEqual(plan.trials!);
  }
  const wide = planDifference('triangle', { proportionAbove: 0.5, power: 0.95 });
  expect([wide.firstTrials, wide.trials]).toEqual([23, 29]);
});

test('what no workable tasting can show is said, and huge differences need the fewest possible', () => {
  const hopeless = planDifference('triangle', { dPrime: 0.05 });
  expect([hopeless.trials, hopeless.firstTrials, hopeless.needed, hopeless.power]).toEqual([
    null,
    null,
    null,
    null,
  ]);
  expect(hopeless.says).toContain('too small');
  const huge = planDifference('triangle', { dPrime: 30 });
  expect([huge.trials, huge.needed]).toEqual([3, 3]);
});

test('the reverse: what a number of tasters can show', () => {
  for (const method of DIFFERENCE_METHODS)
    for (const trials of [8, 24, 61]) {
      const { dPrime, needed } = smallestDetectable(method, trials);
      expectClose(binomialUpper(needed!, trials, chanceCorrect(method, dPrime!)), 0.8, 1e-9);
    }
  const three = smallestDetectable('duo-trio', 3);
  expect([three.dPrime, three.needed]).toEqual([null, null]);
  expect(three.says).toContain('cannot show any difference');
});

test('most correct for similarity against the stored table', () => {
  const { columns_beta, table } = tables.maximum_correct_for_similarity_triangle;
  let counted = 0;
  for (const [n, rows] of Object.entries(table as Record<string, Record<string, (number | null)[]>>))
    for (const [above, row] of Object.entries(rows))
      row.forEach((most, i) => {
        const limit = { proportionAbove: Number(above), alpha: columns_beta[i] };
        expect(readSimilarity('triangle', Number(n), 0, limit).most).toBe(most);
        counted++;
      });
  expect(counted).toBeGreaterThan(100);
});

test('similar exactly where the one-sided upper limit is at most the limit', () => {
  for (let correct = 0; correct <= 36; correct++) {
    const found = readSimilarity('tetrad', 36, correct, { proportionAbove: 0.3 });
    expect(found.similar).toBe(found.upper <= 0.3);
    expect(found.similar).toBe(found.p <= 0.05);
    expectClose(found.p, binomialCdf(correct, 36, 1 / 3 + 0.2), 1e-12);
  }
  expect(readSimilarity('tetrad', 36, 18, { proportionAbove: 0.3 }).says).toContain(
    'does not show a difference',
  );
  expect(readSimilarity('triangle', 3, 0, { proportionAbove: 0.3 }).says).toContain('nothing may be claimed');
});

test('planning similarity: the power holds from there on, by direct count', () => {
  const plan = planSimilarity('triangle', { proportionAbove: 0.3, power: 0.9 });
  const power = (n: number) => {
    const { most } = readSimilarity('triangle', n, 0, { proportionAbove: 0.3 });
    return most === null ? 0 : binomialCdf(most, n, 1 / 3);
  };
  expect(power(plan.trials! - 1)).toBeLessThan(0.9);
  for (let n = plan.trials!; n < plan.trials! + 150; n++) expect(power(n)).toBeGreaterThanOrEqual(0.9);
  expectClose(plan.power, power(plan.trials!), 1e-12);
  expect(readSimilarity('triangle', plan.trials!, plan.most!, { proportionAbove: 0.3 }).similar).toBe(true);
  expect(planSimilarity('triangle', { proportionAbove: 0.3, truly: 0.1 }).trials).toBeGreaterThan(
    planSimilarity('triangle', { proportionAbove: 0.3 }).trials!,
  );
  expect(planSimilarity('triangle', { proportionAbove: 0.005 }).trials).toBeNull();
});

test('misuse is refused by name', () => {
  expect(() => planDifference('triangle', {})).toThrow(/either dPrime or proportionAbove/);
  expect(() => planDifference('triangle', { dPrime: 1, proportionAbove: 0.2 })).toThrow(/either/);
  expect(() => planDifference('triangle', { dPrime: 0 })).toThrow(/dPrime/);
  expect(() => planDifference('triangle', { dPrime: 1, power: 0.04 })).toThrow(/power/);
  expect(() => planSimilarity('triangle', { proportionAbove: 0.3, truly: 0.3 })).toThrow(/truly/);
  expect(() => smallestDetectable('triangle', 0)).toThrow(/trials/);
});
