import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fitMixed } from '../../../../engine/panel/mixed/fit.ts';
import type { MixedFit, MixedProblem } from '../../../../engine/panel/mixed/types.ts';
import { expectAllClose, expectClose } from './closeness.ts';
import { examplePanel, reordered, shuffled, uniform } from './example-panels.ts';

const settings = { seed: 20, numRuns: 25 };

/** Small panels, whole and with gaps, with and without a cell and session variance. */
const panels = fc
  .record({
    assessors: fc.integer({ min: 3, max: 7 }),
    mixes: fc.integer({ min: 2, max: 5 }),
    replicates: fc.integer({ min: 2, max: 3 }),
    sessions: fc.integer({ min: 2, max: 3 }),
    cell: fc.constantFrom(0, 5),
    session: fc.constantFrom(0, 4),
    keep: fc.constantFrom(1, 0.8),
    seed: fc.integer({ min: 1, max: 1e6 }),
  })
  .map(({ cell, session, ...shape }) => examplePanel({ ...shape, sd: [8, cell, session, 6] }));

function expectSameFit(actual: MixedFit, expected: MixedFit, scale = 1, rtol = 1e-6): void {
  expect(actual.status).toBe(expected.status);
  if (expected.status !== 'estimated') return;
  expectClose(actual.sigma2, scale ** 2 * expected.sigma2!, rtol);
  for (const [name, v] of Object.entries(expected.variances))
    expectClose(actual.variances[name]!, scale ** 2 * v!, rtol, 1e-7 * actual.sigma2!);
  const size = Math.max(...expected.covariance!.map(Math.abs)) * scale ** 2;
  expectAllClose(
    actual.covariance!,
    expected.covariance!.map((v) => scale ** 2 * v),
    rtol,
    1e-8 * size,
  );
}

const withScores = (problem: MixedProblem, change: (y: number, i: number) => number): MixedProblem => ({
  ...problem,
  y: problem.y.map(change),
});

describe('a fit does not depend on how the same facts are written down', () => {
  test('shift of all scores', () => {
    fc.assert(
      fc.property(panels, fc.double({ min: -1e6, max: 1e6, noNaN: true }), (problem, shift) => {
        const fit = fitMixed(problem);
        const moved = fitMixed(withScores(problem, (y) => y + shift));
        expectSameFit(moved, fit);
        moved.beta.forEach((v, j) => {
          expectClose(v, fit.beta[j]! + (j === 0 ? shift : 0), 1e-9, 1e-6);
        });
      }),
      settings,
    );
  });

  test('scale of all scores', () => {
    fc.assert(
      fc.property(panels, fc.double({ min: 1e-6, max: 1e6, noNaN: true }), (problem, scale) => {
        const fit = fitMixed(problem);
        const scaled = fitMixed(withScores(problem, (y) => scale * y));
        expectSameFit(scaled, fit, scale);
        expectAllClose(
          scaled.beta,
          fit.beta.map((v) => scale * v),
          1e-6,
          1e-6 * scale,
        );
        if (fit.status === 'estimated')
          expectClose(
            scaled.logRestrictedLikelihood,
            fit.logRestrictedLikelihood! - (fit.n - fit.p) * Math.log(scale),
            1e-9,
            1e-7,
          );
      }),
      settings,
    );
  });

  test('row order', () => {
    fc.assert(
      fc.property(panels, fc.integer({ min: 1, max: 1e6 }), (problem, seed) => {
        const order = shuffled(problem.y.length, uniform(seed));
        const fit = fitMixed(problem);
        const other = fitMixed(reordered(problem, order));
        expectSameFit(other, fit);
        expectAllClose(
          other.residuals,
          order.map((i) => fit.residuals[i]!),
          1e-6,
          1e-5,
        );
      }),
      settings,
    );
  });

  test('names of levels and order of factors', () => {
    fc.assert(
      fc.property(panels, fc.integer({ min: 1, max: 1e6 }), (problem, seed) => {
        const draw = uniform(seed);
        const renamed = shuffled(problem.random.length, draw).map((k) => {
          const factor = problem.random[k]!;
          const names = shuffled(factor.count + 2, draw); // two levels nobody uses
          return { name: factor.name, count: factor.count + 2, levels: factor.levels.map((l) => names[l]!) };
        });
        const fit = fitMixed(problem);
        const other = fitMixed({ ...problem, random: renamed });
        if (fit.unidentified.length > 0) return; // which of two confounded factors goes depends on their order
        expectSameFit(other, fit);
        expectAllClose(other.beta, fit.beta, 1e-6, 1e-6);
        renamed.forEach((factor) => {
          const old = problem.random.find((f) => f.name === factor.name)!;
          old.levels.forEach((l, i) => {
            expectClose(
              other.effects[factor.name]![factor.levels[i]!]!,
              fit.effects[factor.name]![l]!,
              1e-5,
              1e-5,
            );
          });
        });
      }),
      settings,
    );
  });

  test('another basis of the fixed part', () => {
    fc.assert(
      fc.property(panels, fc.integer({ min: 1, max: 1e6 }), (problem, seed) => {
        const p = problem.names.length;
        const draw = uniform(seed);
        const mixing = Float64Array.from({ length: p * p }, (_, at) =>
          at % (p + 1) === 0 ? 2 : draw() - 0.5,
        );
        const fixed = problem.fixed.map((_, at) => {
          const [i, j] = [Math.floor(at / p), at % p];
          let sum = 0;
          for (let k = 0; k < p; k++) sum += problem.fixed[i * p + k]! * mixing[k * p + j]!;
          return sum;
        });
        const fit = fitMixed(problem);
        const other = fitMixed({ ...problem, fixed });
        expect(other.status).toBe(fit.status);
        if (fit.status !== 'estimated') return;
        expectClose(other.sigma2, fit.sigma2!, 1e-6);
        expectAllClose(other.fitted, fit.fitted, 1e-6, 1e-5);
      }),
      settings,
    );
  });

  test('a panel doubled under new names keeps its coefficients where nothing is missing', () => {
    const problem = examplePanel({
      assessors: 5,
      mixes: 4,
      replicates: 2,
      sessions: 1,
      sd: [8, 5, 0, 6],
      seed: 8,
    });
    const twice = [...problem.y.keys(), ...problem.y.keys()];
    const doubled = reordered(problem, twice);
    const random = problem.random.slice(0, 2).map((f) => ({
      name: f.name,
      count: 2 * f.count,
      levels: Int32Array.from(twice, (i, at) => f.levels[i]! + (at < problem.y.length ? 0 : f.count)),
    }));
    const fit = fitMixed({ ...problem, random: problem.random.slice(0, 2) });
    const both = fitMixed({ ...doubled, random });
    expectAllClose(both.beta, fit.beta, 1e-9);
  });
});

describe('conditioning', () => {
  test('coefficients keep eight digits when columns are nearly dependent (condition about a million)', () => {
    const problem = examplePanel({
      assessors: 6,
      mixes: 4,
      replicates: 2,
      sessions: 2,
      sd: [8, 5, 3, 6],
      seed: 4,
    });
    const p = problem.names.length;
    const fit = fitMixed(problem);
    // the second column shrinks onto the constant; a power of two, so that the data themselves stay exact
    const part = 2 ** -20;
    const fixed = problem.fixed.map((v, at) => (at % p === 1 ? 1 + part * v : v));
    const other = fitMixed({ ...problem, fixed });
    const standardError = Math.sqrt(fit.covariance![p + 1]!);
    expectClose(other.beta[1]! * part, fit.beta[1]!, 0, 1e-8 * standardError);
    expectClose(other.beta[2]!, fit.beta[2]!, 1e-8);
    expectClose(other.sigma2, fit.sigma2!, 1e-8);
    expectClose(other.logRestrictedLikelihood, fit.logRestrictedLikelihood! - Math.log(part), 1e-9);
  });

  test('columns of very different units', () => {
    const problem = examplePanel({
      assessors: 6,
      mixes: 4,
      replicates: 2,
      sessions: 2,
      sd: [8, 5, 3, 6],
      seed: 4,
    });
    const p = problem.names.length;
    const fit = fitMixed(problem);
    const fixed = problem.fixed.map((v, at) => v * [1, 1e-9, 1e9, 1e120][at % p]!);
    const other = fitMixed({ ...problem, fixed });
    expectClose(other.beta[1]! * 1e-9, fit.beta[1]!, 1e-9);
    expectClose(other.beta[3]! * 1e120, fit.beta[3]!, 1e-9);
    expectClose(other.sigma2, fit.sigma2!, 1e-9);
  });
});
