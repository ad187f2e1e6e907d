import { describe, expect, test } from 'vitest';
import { cholesky, inverseOfPositive, multiply } from '../../../../engine/numeric/dense.ts';
import { orthogonalFactors, solveUpper } from '../../../../engine/numeric/orthogonal.ts';
import { boundedStep } from '../../../../engine/panel/mixed/bounded-step.ts';
import { independentColumns } from '../../../../engine/panel/mixed/independent-columns.ts';
import { minimiseBounded } from '../../../../engine/panel/mixed/minimise.ts';
import { chooseStructure } from '../../../../engine/panel/mixed/structure.ts';
import { expectAllClose, expectClose } from './closeness.ts';
import { examplePanel, uniform } from './example-panels.ts';

describe('dense kernels', () => {
  test('Cholesky refuses what is not positive definite', () => {
    expect(cholesky(Float64Array.of(1, 2, 2, 1), 2)).toBeNull();
    expect(cholesky(Float64Array.of(1, 1, 1, 1), 2)).toBeNull();
    expectClose(cholesky(Float64Array.of(4, 2, 2, 3), 2), Math.log(8), 1e-14);
  });

  test('the inverse times the matrix is the identity', () => {
    const draw = uniform(3);
    const half = Float64Array.from({ length: 25 }, () => draw() - 0.5);
    const gram = multiply(
      half,
      half.map((_, at) => half[(at % 5) * 5 + Math.floor(at / 5)]!),
      5,
    );
    const product = multiply(gram, inverseOfPositive(gram, 5)!, 5);
    expectAllClose(
      product,
      Float64Array.from({ length: 25 }, (_, at) => (at % 6 === 0 ? 1 : 0)),
      0,
      1e-10,
    );
  });
});

describe('orthogonal factors', () => {
  const hilbert = Float64Array.from({ length: 12 * 6 }, (_, at) => 1 / (1 + Math.floor(at / 6) + (at % 6)));

  test('Q R gives the matrix back and Q is orthonormal, for a Hilbert matrix', () => {
    const { q, r } = orthogonalFactors(hilbert, 12, 6);
    expectAllClose(multiply(q, r, 6), hilbert, 1e-14, 1e-15);
    const gram = Float64Array.from({ length: 36 }, (_, at) => {
      let sum = 0;
      for (let i = 0; i < 12; i++) sum += q[i * 6 + (at % 6)]! * q[i * 6 + Math.floor(at / 6)]!;
      return sum;
    });
    expectAllClose(
      gram,
      Float64Array.from({ length: 36 }, (_, at) => (at % 7 === 0 ? 1 : 0)),
      0,
      1e-14,
    );
  });

  test('back substitution', () => {
    expectAllClose(solveUpper(Float64Array.of(2, 1, 0, 4), [4, 8]), [1, 2], 1e-15);
  });

  test('columns that depend on earlier ones are found whatever their unit', () => {
    const rows = [1, 2, 3, 4, 5].flatMap((v) => [v, 1, 3 * v - 2, v * v]);
    for (const scale of [1, 1e-150, 1e150])
      expect(
        independentColumns(
          Float64Array.from(rows, (v, at) => (at % 4 === 2 ? scale * v : v)),
          4,
        ),
      ).toEqual([0, 1, 3]);
    expect(independentColumns(new Float64Array(6), 2)).toEqual([]);
  });
});

describe('bounded minimiser', () => {
  test('a step ends on the bound to the last bit where the bound holds it', () => {
    const position = Float64Array.of(0.1, 0.3);
    const step = boundedStep(Float64Array.of(5, -1), Float64Array.of(2, 0.5, 0.5, 1), position)!;
    expect(position[0]! + step[0]!).toBe(0);
    expectClose(step[1]!, 1 + 0.5 * 0.1, 1e-14); // -(g + H_21 d_1)/H_22
    expect(boundedStep(Float64Array.of(1, 1), Float64Array.of(1, 2, 2, 1), position)).toBeNull();
  });

  test('finds known minima inside and on the bound', () => {
    // f = Σ (log(1+x) + a/(1+x)): least at x = a - 1, or at 0 where a < 1
    const a = [4, 0.5, 30];
    const value = (x: Float64Array) => a.reduce((s, v, k) => s + Math.log1p(x[k]!) + v / (1 + x[k]!), 0);
    const problem = {
      most: 1e8,
      value,
      expand: (x: Float64Array) => ({
        value: value(x),
        gradient: x.map((v, k) => 1 / (1 + v) - a[k]! / (1 + v) ** 2),
        hessian: diagonal(x.map((v, k) => -1 / (1 + v) ** 2 + (2 * a[k]!) / (1 + v) ** 3)),
        expected: diagonal(x.map((v) => 1 / (1 + v) ** 2)),
      }),
    };
    const found = minimiseBounded(problem, Float64Array.of(1, 1, 1))!;
    expect(found.status).toBe('converged');
    expect(found.position[1]).toBe(0);
    expectAllClose(found.position, [3, 0, 29], 1e-8);
  });
});

const diagonal = (values: Float64Array) =>
  Float64Array.from({ length: values.length ** 2 }, (_, at) =>
    at % (values.length + 1) === 0 ? values[at % values.length]! : 0,
  );

describe('structure', () => {
  test('assessors and their cells make one block each, sessions go to the border', () => {
    const { random, names, y } = examplePanel({
      assessors: 9,
      mixes: 6,
      replicates: 2,
      sessions: 2,
      sd: [8, 4, 3, 6],
      seed: 2,
    });
    const s = chooseStructure(random, new Int32Array(y.length), names.length);
    expect(s.isGlobal).toEqual([false, false, true]);
    expect(s.blockStart).toHaveLength(10);
    expect(new Set(s.place.flatMap((p) => [...p])).size).toBe(9 + 54 + 2);
    s.blockRows.forEach((rows, b) => {
      for (const i of rows)
        for (const k of [0, 1]) {
          const at = s.place[k]![random[k]!.levels[i]!]!;
          expect(at >= s.blockStart[b]! && at < s.blockStart[b + 1]!).toBe(true);
        }
    });
  });

  test('of two crossed factors the one with more levels stays local, each level a block of its own', () => {
    const levels = (f: (i: number) => number, count: number, name: string) => ({
      name,
      count,
      levels: Int32Array.from({ length: 60 }, (_, i) => f(i)),
    });
    const s = chooseStructure(
      [levels((i) => i % 4, 4, 'few'), levels((i) => Math.floor(i / 4), 15, 'many')],
      new Int32Array(60),
      1,
    );
    expect(s.isGlobal).toEqual([true, false]);
    expect(s.blockStart).toHaveLength(16);
  });
});
