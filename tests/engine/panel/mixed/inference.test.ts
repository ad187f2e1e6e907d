import { describe, expect, test } from 'vitest';
import { fisherUpper } from '../../../../engine/numeric/fisher.ts';
import { allPairs } from '../../../../engine/panel/mixed/all-pairs.ts';
import { estimate } from '../../../../engine/panel/mixed/estimate.ts';
import { fitMixed } from '../../../../engine/panel/mixed/fit.ts';
import { jointPrediction } from '../../../../engine/panel/mixed/prediction.ts';
import type { DegreesMethod } from '../../../../engine/panel/mixed/types.ts';
import { waldTest } from '../../../../engine/panel/mixed/wald-test.ts';
import { expectClose } from './closeness.ts';
import { examplePanel } from './example-panels.ts';

const methods: DegreesMethod[] = ['satterthwaite', 'kenward-roger'];
const problem = examplePanel({
  assessors: 6,
  mixes: 4,
  replicates: 2,
  sessions: 2,
  sd: [8, 5, 4, 6],
  keep: 0.85,
  seed: 3,
});
const fit = fitMixed(problem);
const unit = (j: number) => [0, 1, 2, 3].map((k) => (k === j ? 1 : 0));

describe.each(methods)('tests by %s', (method) => {
  test('ordinary least squares has n - p degrees of freedom and its classical F', () => {
    const plain = fitMixed({ ...problem, random: [] });
    const df = plain.n - plain.p;
    expectClose(estimate(plain, [1, 0.5, -2, 0], method).denDf, df, 1e-9);
    const found = waldTest(plain, [unit(1), unit(2), unit(3)], method);
    const mean = problem.y.reduce((s, v) => s + v, 0) / plain.n;
    const total = problem.y.reduce((s, v) => s + (v - mean) ** 2, 0);
    const rest = plain.residuals.reduce((s, v) => s + v * v, 0);
    expectClose(found.f, (total - rest) / 3 / (rest / df), 1e-9);
    expectClose(found.denDf, df, 1e-8);
    expectClose(found.p, fisherUpper(found.f!, 3, df), 1e-9);
  });

  test('one row gives the square of t', () => {
    const one = estimate(fit, unit(2), method);
    const wald = waldTest(fit, [unit(2)], method);
    expectClose(wald.f, one.t! ** 2, 1e-10);
    expectClose(wald.denDf, one.denDf!, 1e-9);
    expectClose(wald.p, one.p!, 1e-9);
  });

  test('rows that repeat or add others change neither F nor rank', () => {
    const two = waldTest(fit, [unit(1), unit(3)], method);
    const more = waldTest(fit, [unit(1), unit(3), [0, 2, 0, -1], unit(1)], method);
    expect(more.numDf).toBe(2);
    expectClose(more.f, two.f!, 1e-9);
    // Satterthwaite's combination goes by directions, which the repeated rows turn: it is the method, not rounding
    expectClose(more.denDf, two.denDf!, method === 'kenward-roger' ? 1e-8 : 0.05);
  });

  test('a difference of two means is the contrast of their rows, and p does not depend on sign', () => {
    const rows = [0, 1, 2, 3].map((m) => [1, ...[1, 2, 3].map((k) => (k === m ? 1 : 0))]);
    const found = allPairs(fit, rows, ['a', 'b', 'c', 'd'], method);
    expect(found.differences).toHaveLength(6);
    const back = allPairs(fit, [...rows].reverse(), ['d', 'c', 'b', 'a'], method);
    for (const d of found.differences) {
      const other = back.differences.find((e) => e.a === d.b && e.b === d.a)!;
      expectClose(other.difference, -d.difference, 1e-9, 1e-12);
      expectClose(other.p, d.p!, 1e-8);
    }
  });
});

test('of two means Tukey and Kramer is the t test', () => {
  const rows = [
    [1, 0, 0, 0],
    [1, 1, 0, 0],
  ];
  const pair = allPairs(fit, rows, ['a', 'b']).differences[0]!;
  expectClose(pair.p, estimate(fit, [0, 1, 0, 0]).p!, 1e-9);
});

test('where no residual is left nothing is tested, and the reason is told', () => {
  const perfect = fitMixed({ ...problem, y: problem.y.map(() => 7) });
  expect(estimate(perfect, unit(0))).toMatchObject({
    standardError: null,
    p: null,
    reason: expect.stringContaining('every score'),
  });
  expect(waldTest(perfect, [unit(1)])).toMatchObject({
    f: null,
    p: null,
    reason: expect.stringContaining('every score'),
  });
  expect(estimate(fit, [0, 0, 0, 0]).reason).toMatch(/empty/);
  expect(waldTest(fit, []).reason).toMatch(/nothing to test/);
  expect(() => estimate(fit, [1, 2])).toThrow(/l/);
});

test('a prediction without random effects has the standard error and degrees of freedom of the estimate', () => {
  const row = [1, 0.3, 0.7, 0];
  const one = estimate(fit, row);
  const found = jointPrediction(fit, {
    fixed: Float64Array.from(row),
    effects: [],
    effectOf: Int32Array.of(-1),
  });
  expectClose(found.value[0]!, one.estimate, 1e-12);
  expectClose(Math.sqrt(found.covariance![0]!), one.standardError!, 1e-10);
  expectClose(found.denDf[0]!, one.denDf!, 1e-9);
});

test('two thousand points share a few weightings of effects in well under a second', () => {
  const m = 2000;
  const mean = Array.from({ length: 6 }, (_, level) => ({ factor: 'assessor', level, weight: 1 / 6 }));
  const fixed = Float64Array.from({ length: 4 * m }, (_, at) => (at % 4 === 0 ? 1 : (at % 97) / 97));
  const start = performance.now();
  const found = jointPrediction(fit, { fixed, effects: [mean], effectOf: new Int32Array(m) });
  expect(performance.now() - start).toBeLessThan(3000); // a guard against cubic growth, not a measurement
  expect(found.covariance).toHaveLength(m * m);
  expect(found.covariance!.every(Number.isFinite)).toBe(true);
});
