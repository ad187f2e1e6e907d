import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { fitBetaBinomial } from '../../../engine/difference/beta-binomial.ts';
import { planPreference, readPreference } from '../../../engine/difference/preference.ts';
import { readReplicated } from '../../../engine/difference/read-replicated.ts';
import { planSequential, sequentialOutlook, walkSequential } from '../../../engine/difference/sequential.ts';
import { binomialUpper } from '../../../engine/numeric/binomial.ts';
import { createRandom } from '../../../engine/numeric/random.ts';
import { expectClose } from './closeness.ts';

const load = (name: string) => JSON.parse(readFileSync(`tests/reference/difference/${name}.json`, 'utf8'));
const r = load('difference');

test('repeated answers: the stored example', () => {
  const stored = load('replicated-difference-test');
  const found = readReplicated(
    'two-afc',
    stored.correct.map((correct: number) => ({ trials: stored.replicates, correct })),
  );
  expect([found.trials, found.correct]).toEqual([48, 34]);
  expectClose(found.p, stored.binomial_p_as_if_independent, 1e-12);
  expectClose(found.heterogeneity!.chiSquare, stored.pearson_heterogeneity_chi2, 1e-7);
  expectClose(found.heterogeneity!.p, stored.p_heterogeneity, 1e-10);
  expectClose(found.heterogeneity!.taroneZ, stored.tarone_Z, 1e-6);
  expectClose(found.heterogeneity!.taroneP, stored.tarone_p, 1e-6);
  expectClose(found.fit.mean, stored.beta_binomial.mean, 0, 5.1e-6);
  expectClose(found.fit.correlation, stored.beta_binomial.rho, 0, 5.1e-6);
  expectClose(found.fit.logLikelihood, stored.beta_binomial.logLik, 0, 5.1e-6);
  expectClose(found.fit.independentLogLikelihood, stored.binomial_logLik, 0, 5.1e-6);
  expect(found.says).toContain('fewer people than they look');
});

test('beta-binomial fits and likelihood intervals against R', () => {
  for (const e of r.betaBinomial) {
    const found = fitBetaBinomial(
      e.correct.map((correct: number, i: number) => ({ correct, trials: e.trials[i] })),
    );
    expectClose(found.mean, e.mean, 1e-6);
    expectClose(found.correlation, e.correlation, 1e-5);
    expectClose(found.logLikelihood, e.logLikelihood, 1e-10);
    expectClose(found.interval[0], e.interval[0], 1e-6);
    expectClose(found.interval[1], e.interval[1], 1e-6);
  }
});

test('answers as alike as independent ones have correlation 0 and the binomial likelihood', () => {
  const even = fitBetaBinomial(Array.from({ length: 9 }, () => ({ trials: 3, correct: 2 })));
  expect(even.correlation).toBe(0);
  expectClose(even.mean, 2 / 3, 1e-7);
  expectClose(even.logLikelihood, even.independentLogLikelihood, 1e-12);
});

test('all correct, none correct, one answer each: no number without a meaning', () => {
  const people = (correct: number, trials = 3) => Array.from({ length: 6 }, () => ({ trials, correct }));
  const all = readReplicated('triangle', people(3));
  expect([all.fit.mean, all.fit.correlation, all.heterogeneity, all.dPrime]).toEqual([1, null, null, null]);
  expect(all.interval[1]).toBe(1);
  const none = readReplicated('triangle', people(0));
  expect([none.proportionAbove, none.interval[0], none.fit.interval[0]]).toEqual([0, 0, 0]);
  const single = readReplicated('triangle', [...people(1, 1), { trials: 1, correct: 0 }]);
  expect(single.heterogeneity!.taroneZ).toBe(0);
  expect(
    Object.values(single.fit)
      .flat()
      .every((v) => v === null || Number.isFinite(v)),
  ).toBe(true);
  expect(() => readReplicated('triangle', [{ trials: 3, correct: 1 }])).toThrow(/two assessors/);
});

test('guessing assessors: the binomial test over repeated answers keeps its error rate', () => {
  const random = createRandom(11, 'guessing');
  let found = 0;
  for (let k = 0; k < 4000; k++) {
    const correct = Array.from({ length: 6 * 4 }, () => (random.uniform() < 1 / 3 ? 1 : 0)).reduce(
      (a, b) => a + b,
      0 as number,
    );
    if (binomialUpper(correct, 24, 1 / 3) <= 0.05) found++;
  }
  expect(found / 4000).toBeLessThan(0.05 + 3 * Math.sqrt((0.05 * 0.95) / 4000));
  expect(found / 4000).toBeGreaterThan(0.015);
});

test("Wald's lines and a walk along them against the stored plans", () => {
  const stored = load('sequential-tests');
  const method = { triangle: 'triangle', '2-AFC': 'two-afc', tetrad: 'tetrad' } as const;
  for (const e of stored.plans) {
    const [name, what] = e.test.split(', ') as [keyof typeof method, string];
    const effect = what.startsWith('pd') ? { proportionAbove: 0.5 } : { dPrime: 1 };
    const plan = planSequential(method[name], { ...effect, alpha: e.alpha, beta: e.beta });
    expectClose(plan.share, e.p1, 1e-9);
    expectClose(plan.slope, e.slope, 0, 5.1e-7);
    expectClose(plan.upperIntercept, e.upper_intercept, 0, 5.1e-7);
    expectClose(plan.lowerIntercept, e.lower_intercept, 0, 5.1e-7);
  }
  const plan = planSequential('triangle', { proportionAbove: 0.5 });
  const walk = walkSequential(plan, stored.walk.answers.map(Boolean));
  expect(walk.steps.map((s) => [s.trials, s.correct, s.decision])).toEqual(
    stored.walk.steps.map((s: { n: number; correct: number; decision: string }) => [
      s.n,
      s.correct,
      s.decision,
    ]),
  );
  expect(walk.decision).toBe('difference');
});

test('sequential plans keep their error rates (exact recursion) and need fewer tastings than a fixed number', () => {
  for (const [method, fixed] of [
    ['triangle', 327],
    ['two-afc', 38],
    ['tetrad', 94],
  ] as const) {
    const plan = planSequential(method, { dPrime: 1 });
    const guessing = sequentialOutlook(plan, plan.chance, 3000);
    const there = sequentialOutlook(plan, plan.share, 3000);
    expect(guessing.difference).toBeLessThanOrEqual(plan.alpha / (1 - plan.beta));
    expect(there.none).toBeLessThanOrEqual(plan.beta / (1 - plan.alpha));
    expect(guessing.undecided + there.undecided).toBeLessThan(1e-6);
    expectClose(guessing.difference + guessing.none + guessing.undecided, 1, 1e-12);
    expect(Math.max(guessing.expectedTrials, there.expectedTrials)).toBeLessThan(fixed);
    console.log(
      `${method} d' 1: wrong ${guessing.difference.toFixed(4)} and ${there.none.toFixed(4)}, on average ${guessing.expectedTrials.toFixed(0)} or ${there.expectedTrials.toFixed(0)} tastings`,
    );
  }
});

test('a walk stops at its first decision and claims no sameness', () => {
  const plan = planSequential('triangle', { dPrime: 2 });
  const wrong = walkSequential(plan, new Array<boolean>(40).fill(false));
  expect(wrong.decision).toBe('none of that size');
  expect(wrong.steps.length).toBeLessThan(40);
  expect(wrong.says).toContain('A smaller one may be');
  expect(walkSequential(plan, [true]).decision).toBe('go on');
  expect(walkSequential(plan, []).steps).toEqual([]);
  expect(() => planSequential('triangle', { dPrime: 1, alpha: 0.6, beta: 0.4 })).toThrow(/alpha, beta/);
  expect(() => planSequential('triangle', { dPrime: 40 })).toThrow(/dPrime/);
});

test('paired preference is two-sided: against R, and the stored two-sided table', () => {
  for (const e of r.preference) {
    const found = readPreference(e.first, e.second);
    expectClose(found.p, e.p, 1e-12);
    expectClose(found.interval![0], e.interval[0], 1e-10);
    expectClose(found.interval![1], e.interval[1], 1e-10);
  }
  const table = load('discrimination-tables').minimum_correct_p_one_half_two_sided;
  for (const [n, row] of Object.entries(table as Record<string, (number | null)[]>))
    expect(readPreference(Number(n), 0).needed).toBe(row[2]);
  expect(readPreference(10, 20, 4)).toMatchObject({ p: readPreference(20, 10).p, share: 1 / 3 });
  expect(readPreference(12, 11).says).toContain('does not show that both are liked alike');
  expect(readPreference(0, 0, 5)).toMatchObject({ p: null, share: null, needed: null });
});

test('planning a preference: the power holds from there on', () => {
  const plan = planPreference(0.35)!;
  const power = (n: number) => {
    const needed = readPreference(n, 0).needed;
    return needed === null ? 0 : binomialUpper(needed, n, 0.65) + binomialUpper(needed, n, 0.35);
  };
  expect(power(plan.trials - 1)).toBeLessThan(0.8);
  for (let n = plan.trials; n < plan.trials + 100; n++) expect(power(n)).toBeGreaterThanOrEqual(0.8);
  expect(planPreference(0.65)).toEqual(plan);
  expect(() => planPreference(0.5)).toThrow(/share/);
});
