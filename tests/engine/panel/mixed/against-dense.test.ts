import { inverse, Matrix } from 'ml-matrix';
import { describe, expect, test } from 'vitest';
import { expandCriterion } from '../../../../engine/panel/mixed/criterion.ts';
import { fitMixed } from '../../../../engine/panel/mixed/fit.ts';
import { fixedWithVariancesHeld } from '../../../../engine/panel/mixed/held.ts';
import { jointPrediction } from '../../../../engine/panel/mixed/prediction.ts';
import { prepareMixed } from '../../../../engine/panel/mixed/prepare.ts';
import { gatherScores } from '../../../../engine/panel/mixed/products.ts';
import type { MixedFit, MixedProblem } from '../../../../engine/panel/mixed/types.ts';
import { expectAllClose, expectClose } from './closeness.ts';
import { DenseModel } from './dense-model.ts';
import { examplePanel, uniform } from './example-panels.ts';

const panels: Record<string, MixedProblem> = {
  crossed: examplePanel({ assessors: 5, mixes: 4, replicates: 2, sessions: 2, sd: [8, 5, 4, 6], seed: 1 }),
  gaps: examplePanel({
    assessors: 6,
    mixes: 5,
    replicates: 3,
    sessions: 3,
    sd: [8, 6, 5, 6],
    keep: 0.6,
    seed: 2,
  }),
};
const plates = examplePanel({
  assessors: 7,
  mixes: 6,
  replicates: 2,
  sessions: 5,
  sd: [8, 0, 6, 5],
  seed: 3,
});
panels.twoCrossed = { ...plates, random: [plates.random[0]!, plates.random[2]!] };

function clearedScores(problem: MixedProblem) {
  const prepared = prepareMixed(problem.fixed, problem.names, problem.random);
  const fit = fitMixed({ ...problem, random: [] });
  return { prepared, scores: gatherScores(prepared.structure, prepared.orthogonal.q, fit.residuals) };
}

const tausFor = (count: number) => [
  new Float64Array(count).fill(0.7),
  Float64Array.from({ length: count }, (_, k) => [2.5, 0.3, 0.05][k]!),
  Float64Array.from({ length: count }, (_, k) => [0, 1.3, 0.4][k]!),
  new Float64Array(count),
];

describe.each(Object.entries(panels))('block kernel against dense matrices: %s', (_, problem) => {
  const { prepared, scores } = clearedScores(problem);
  const dense = new DenseModel(problem);

  test('criterion', () => {
    for (const tau of tausFor(problem.random.length))
      expectClose(expandCriterion(prepared, scores, tau)!.value, dense.criterion(tau), 1e-11);
  });

  test('gradient and second derivatives against differences of the criterion and of the gradient', () => {
    for (const tau of tausFor(problem.random.length)) {
      if (tau.some((v) => v === 0)) continue;
      const { gradient, hessian } = expandCriterion(prepared, scores, tau)!;
      tau.forEach((v, k) => {
        const h = 1e-4 * v;
        const moved = (by: number) => tau.map((t, l) => (l === k ? t + by : t));
        const slope = (dense.criterion(moved(h)) - dense.criterion(moved(-h))) / (2 * h);
        expectClose(gradient[k]!, slope, 1e-5, 1e-5); // differences of size h leave h² relative
        const up = expandCriterion(prepared, scores, moved(h))!.gradient;
        const down = expandCriterion(prepared, scores, moved(-h))!.gradient;
        up.forEach((g, l) => {
          expectClose(hessian[k * tau.length + l]!, (g - down[l]!) / (2 * h), 1e-5, 1e-5);
        });
      });
    }
  });

  test('gradient at zero is the slope into the allowed side', () => {
    const tau = new Float64Array(problem.random.length);
    const { gradient } = expandCriterion(prepared, scores, tau)!;
    tau.forEach((_v, k) => {
      const at = (h: number) => dense.criterion(tau.map((t, l) => (l === k ? t + h : t)));
      const h = 1e-4;
      expectClose(gradient[k]!, (4 * at(h) - at(2 * h) - 3 * at(0)) / (2 * h), 1e-4, 1e-4);
    });
  });

  test('coefficients, covariance, modes and residual variance at the optimum', () => {
    const fit = fitMixed(problem);
    const tau = problem.random.map((f) => fit.variances[f.name]! / fit.sigma2!);
    const { beta, information, weighted, square } = dense.solve(dense.ratioMatrix(tau));
    expectAllClose(fit.beta, beta.getColumn(0), 1e-10);
    expectClose(fit.sigma2, square / (fit.n - fit.p), 1e-11);
    expectAllClose(fit.covariance!, inverse(information).mul(fit.sigma2!).to1DArray(), 1e-9, 1e-12);
    dense.z.forEach((z, k) => {
      const modes = z.transpose().mmul(weighted).mul(tau[k]!).getColumn(0);
      expectAllClose(fit.effects[problem.random[k]!.name]!, modes, 1e-9, 1e-9);
    });
  });

  test('prediction error covariance and its degrees of freedom against the mixed model equations', () => {
    const fit = fitMixed(problem);
    if (fit.zero.length > 0) expect.fail('this panel was chosen to have no zero variance');
    const points = somePoints(problem);
    const found = jointPrediction(fit, points);
    const rows = densePoints(problem, points);
    const at = (v: readonly number[]) =>
      rows.mmul(inverse(dense.henderson(v.at(-1)!, v.slice(0, -1)))).mmul(rows.transpose());
    const variances = [...problem.random.map((f) => fit.variances[f.name]!), fit.sigma2!];
    expectAllClose(found.covariance!, at(variances).to1DArray(), 1e-9, 1e-10);
    const stacked = [...fit.beta, ...problem.random.flatMap((f) => [...fit.effects[f.name]!])];
    expectAllClose(found.value, rows.mmul(Matrix.columnVector(stacked)).getColumn(0), 1e-10);
    const spread = inverse(observedInformation(dense, variances)).mul(2);
    const slopes = variances.map((v, k) => {
      const moved = (by: number) => at(variances.map((w, l) => (l === k ? w + by * v : w))).diagonal();
      const [up, down] = [moved(1e-5), moved(-1e-5)];
      return up.map((u, j) => (u - down[j]!) / (2e-5 * v));
    });
    found.denDf.forEach((df, j) => {
      const g = Matrix.columnVector(slopes.map((s) => s[j]!));
      const expected =
        (2 * found.covariance![j * found.denDf.length + j]! ** 2) /
        g.transpose().mmul(spread).mmul(g).get(0, 0);
      expectClose(df, expected, 1e-5); // second differences of the criterion
    });
  });

  test('left-out rows with variances held', () => {
    const fit = fitMixed(problem);
    const draw = uniform(9);
    const keep = [...problem.y].map(() => draw() < 0.7);
    const held = fixedWithVariancesHeld(fit, keep);
    const tau = problem.random.map((f) => fit.variances[f.name]! / fit.sigma2!);
    const part = new DenseModel(problem, keep);
    const { beta, information, weighted } = part.solve(part.ratioMatrix(tau));
    expectAllClose(held.beta!, beta.getColumn(0), 1e-10);
    expectAllClose(held.covariance!, inverse(information).mul(fit.sigma2!).to1DArray(), 1e-9, 1e-10);
    part.z.forEach((z, k) => {
      const modes = z.transpose().mmul(weighted).mul(tau[k]!).getColumn(0);
      expectAllClose(held.effects![problem.random[k]!.name]!, modes, 1e-9, 1e-9);
    });
  });

  test('a mix left out wholly cannot be told by its own column', () => {
    const fit: MixedFit = fitMixed(problem);
    const p = problem.names.length;
    const keep = [...problem.y.keys()].map((i) => problem.fixed[i * p + 2] === 0);
    expect(fixedWithVariancesHeld(fit, keep)).toMatchObject({
      beta: null,
      reason: expect.stringContaining('cannot'),
    });
  });
});

/** Points with no random effect, the panel's mean, one cell, and a fractional fixed row. */
function somePoints(problem: MixedProblem) {
  const p = problem.names.length;
  const [first, second] = problem.random;
  const effects = [
    Array.from({ length: first!.count }, (_, level) => ({
      factor: first!.name,
      level,
      weight: 1 / first!.count,
    })),
    [
      { factor: first!.name, level: 1, weight: 1 },
      { factor: second!.name, level: 3, weight: 0.5 },
    ],
  ];
  const effectOf = Int32Array.from([-1, 0, 0, 1, 1]);
  const fixed = new Float64Array(5 * p);
  for (let j = 0; j < 5; j++) for (let c = 0; c < p; c++) fixed[j * p + c] = c === 0 ? 1 : ((j + c) % 3) / 2;
  return { fixed, effects, effectOf };
}

function densePoints(problem: MixedProblem, points: ReturnType<typeof somePoints>): Matrix {
  const p = problem.names.length;
  const starts = new Map<string, number>();
  let width = p;
  for (const f of problem.random) {
    starts.set(f.name, width);
    width += f.count;
  }
  const rows = Matrix.zeros(points.effectOf.length, width);
  points.effectOf.forEach((z, j) => {
    for (let c = 0; c < p; c++) rows.set(j, c, points.fixed[j * p + c]!);
    if (z >= 0) for (const e of points.effects[z]!) rows.set(j, starts.get(e.factor)! + e.level, e.weight);
  });
  return rows;
}

/** Second differences of the unprofiled criterion in the variances. */
function observedInformation(dense: DenseModel, variances: readonly number[]): Matrix {
  const deviance = (v: readonly number[]) => {
    const sigma2 = v.at(-1)!;
    const df = dense.n - dense.x.columns;
    const tau = v.slice(0, -1).map((w) => w / sigma2);
    const { square } = dense.solve(dense.ratioMatrix(tau));
    const profiled = dense.criterion(tau) - df * (1 + Math.log((2 * Math.PI * square) / df));
    return profiled + df * Math.log(2 * Math.PI * sigma2) + square / sigma2;
  };
  const m = variances.length;
  const out = Matrix.zeros(m, m);
  const step = variances.map((v) => 1e-3 * v);
  const moved = (k: number, a: number, l: number, b: number) =>
    deviance(variances.map((v, i) => v + (i === k ? a * step[k]! : 0) + (i === l ? b * step[l]! : 0)));
  for (let k = 0; k < m; k++)
    for (let l = 0; l < m; l++) {
      const raw = (s: number) =>
        (moved(k, s, l, s) - moved(k, s, l, -s) - moved(k, -s, l, s) + moved(k, -s, l, -s)) /
        (4 * s * s * step[k]! * step[l]!);
      out.set(k, l, (4 * raw(1) - raw(2)) / 3);
    }
  return out;
}
