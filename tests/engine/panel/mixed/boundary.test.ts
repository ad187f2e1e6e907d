import { describe, expect, test } from 'vitest';
import { criterionOf, expandCriterion } from '../../../../engine/panel/mixed/criterion.ts';
import { fitMixed } from '../../../../engine/panel/mixed/fit.ts';
import { gatherScores } from '../../../../engine/panel/mixed/products.ts';
import { reduceAt } from '../../../../engine/panel/mixed/reduction.ts';
import type { MixedFit, MixedProblem } from '../../../../engine/panel/mixed/types.ts';
import { expectAllClose, expectClose } from './closeness.ts';
import { examplePanel, uniform } from './example-panels.ts';

function scoresOf(problem: MixedProblem, fit: MixedFit) {
  const cleared = fitMixed({ ...problem, random: [] });
  return gatherScores(fit.prepared.structure, fit.prepared.orthogonal.q, cleared.residuals);
}

function randomPanel(draw: () => number, seed: number): MixedProblem {
  const whole = (from: number, to: number) => from + Math.floor(draw() * (to - from + 1));
  return examplePanel({
    assessors: whole(3, 6),
    mixes: whole(2, 5),
    replicates: whole(1, 3),
    sessions: whole(1, 3),
    sd: [draw() * 8, draw() < 0.5 ? 0 : draw() * 6, draw() * 5, 2 + draw() * 6],
    keep: 0.75 + draw() / 4,
    seed,
  });
}

/** Ratios spread over what can occur. */
const GRID = [0, 0.01, 0.05, 0.2, 0.7, 2, 6, 25];

function lowestOnGrid(problem: MixedProblem, fit: MixedFit): number {
  const scores = scoresOf(problem, fit);
  const count = fit.prepared.structure.factors.length;
  let lowest = Number.POSITIVE_INFINITY;
  for (let code = 0; code < GRID.length ** count; code++) {
    const tau = Float64Array.from(
      { length: count },
      (_, k) => GRID[Math.floor(code / GRID.length ** k) % GRID.length]!,
    );
    const reduction = reduceAt(fit.prepared.structure, fit.prepared.products, scores, tau)!;
    lowest = Math.min(lowest, criterionOf(fit.prepared, reduction));
  }
  return lowest;
}

describe('variances of zero', () => {
  test('over 120 small panels: exact zeros, no slope left, nothing lower on a grid', () => {
    const draw = uniform(5);
    let zeros = 0;
    for (let seed = 0; seed < 120; seed++) {
      const problem = randomPanel(draw, seed);
      const fit = fitMixed(problem);
      if (fit.status !== 'estimated') continue;
      const tau = fit.workings!.reduction.tau;
      const { gradient } = expandCriterion(fit.prepared, scoresOf(problem, fit), tau)!;
      tau.forEach((v, k) => {
        if (v === 0) expect(gradient[k]).toBeGreaterThanOrEqual(0);
        else expect(Math.abs(gradient[k]! * v)).toBeLessThan(1e-6);
      });
      zeros += fit.zero.length;
      expect(-2 * fit.logRestrictedLikelihood!).toBeLessThanOrEqual(lowestOnGrid(problem, fit) + 1e-7);
    }
    expect(zeros).toBeGreaterThan(30);
  });

  test('the fit equals that of the model without the factor', () => {
    const draw = uniform(6);
    let compared = 0;
    for (let seed = 0; seed < 60; seed++) {
      const problem = randomPanel(draw, seed);
      const fit = fitMixed(problem);
      if (fit.zero.length === 0 || fit.status !== 'estimated') continue;
      const reduced = fitMixed({
        ...problem,
        random: problem.random.filter(
          (f) => !fit.zero.includes(f.name) && !fit.unidentified.includes(f.name),
        ),
      });
      compared++;
      expectAllClose(reduced.beta, fit.beta, 1e-7, 1e-7);
      expectClose(reduced.sigma2, fit.sigma2!, 1e-7);
      expectClose(reduced.logRestrictedLikelihood, fit.logRestrictedLikelihood!, 1e-9, 1e-9);
    }
    expect(compared).toBeGreaterThan(10);
  });
});

describe('what cannot be estimated is said', () => {
  const problem = examplePanel({
    assessors: 4,
    mixes: 3,
    replicates: 2,
    sessions: 2,
    sd: [8, 5, 4, 6],
    seed: 1,
  });

  test('no random factor is ordinary least squares', () => {
    const fit = fitMixed({ ...problem, random: [] });
    expect(fit.status).toBe('estimated');
    const rss = fit.residuals.reduce((s, v) => s + v * v, 0);
    expectClose(fit.sigma2, rss / (fit.n - fit.p), 1e-12);
    const logDetGram = 2 * fit.prepared.orthogonal.logDetR;
    const df = fit.n - fit.p;
    expectClose(
      fit.logRestrictedLikelihood,
      -(logDetGram + df * (1 + Math.log((2 * Math.PI * rss) / df))) / 2,
      1e-12,
    );
  });

  test('constant scores', () => {
    const fit = fitMixed({ ...problem, y: problem.y.map(() => 42) });
    expect(fit).toMatchObject({
      status: 'perfect-fit',
      sigma2: 0,
      covariance: null,
      logRestrictedLikelihood: null,
    });
    expectAllClose(fit.beta, [42, 0, 0], 1e-12, 1e-12);
  });

  test('scores that assessors and mixes explain to the last digit', () => {
    const fit = fitMixed({
      ...problem,
      y: problem.y.map((_, i) => 10 * problem.random[0]!.levels[i]! + problem.fixed[i * 3 + 1]!),
    });
    expect(fit.status).toBe('perfect-fit');
    expect(fit.reason).toMatch(/nothing is left/);
    expectClose(fit.beta[1]!, 1, 1e-6);
  });

  test('as many columns as rows', () => {
    const fit = fitMixed({
      y: Float64Array.of(1, 2),
      fixed: Float64Array.of(1, 0, 1, 1),
      names: ['one', 'more'],
      random: [{ name: 'assessor', levels: Int32Array.of(0, 1), count: 2 }],
    });
    expect(fit).toMatchObject({ status: 'saturated', sigma2: null, variances: { assessor: null } });
    expectAllClose(fit.beta, [1, 1], 1e-12);
  });

  test('one assessor cannot be told from the constant, one score a level not from the residual', () => {
    const n = problem.y.length;
    const fit = fitMixed({
      ...problem,
      random: [
        { name: 'assessor', levels: new Int32Array(n), count: 1 },
        { name: 'cup', levels: Int32Array.from({ length: n }, (_, i) => i), count: n },
        problem.random[2]!,
        { ...problem.random[2]!, name: 'again' },
      ],
    });
    expect(fit.unidentified).toEqual(['assessor', 'cup', 'again']);
    expect(fit.variances).toMatchObject({ assessor: null, cup: null, again: null });
    expect(fit.warnings).toHaveLength(3);
    expect(fit.status).toBe('estimated');
  });

  test('misuse names the argument', () => {
    const fixed = problem.fixed.slice();
    for (let i = 0; i < problem.y.length; i++) fixed[i * 3 + 2] = fixed[i * 3]! - 2 * fixed[i * 3 + 1]!;
    expect(() => fitMixed({ ...problem, fixed })).toThrow(/fixed\[m3\]/);
    expect(() => fitMixed({ ...problem, y: problem.y.slice(1) })).toThrow(/y/);
    expect(() => fitMixed({ ...problem, y: problem.y.map(() => Number.NaN) })).toThrow(/finite/);
    const levels = problem.random[0]!.levels.map(() => 9);
    expect(() => fitMixed({ ...problem, random: [{ name: 'assessor', levels, count: 4 }] })).toThrow(
      /assessor/,
    );
  });
});
