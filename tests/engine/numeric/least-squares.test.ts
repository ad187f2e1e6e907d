import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { independentColumns, leastSquares } from '../../../engine/numeric/least-squares.ts';
import { orthogonalFactors } from '../../../engine/numeric/orthogonal.ts';
import { createRandom } from '../../../engine/numeric/random.ts';
import { expectClose } from './closeness.ts';

const flat = (rows: readonly (readonly number[])[]) => Float64Array.from(rows.flat());
const number = fc.double({ min: -5, max: 5, noNaN: true });

test('a plane through three points, by hand; leverage of a mean', () => {
  const fit = leastSquares(
    flat([
      [1, 0, 0],
      [1, 1, 0],
      [1, 0, 1],
    ]),
    [2, 5, 1],
    3,
  );
  fit.coefficients.forEach((b, j) => {
    expectClose(b, [2, 3, -1][j]!, 1e-14);
  });
  expect(fit.residualSumOfSquares).toBeLessThan(1e-28);
  const mean = leastSquares(flat([[1], [1], [1], [1]]), [1, 2, 3, 6], 1);
  expectClose(mean.coefficients[0]!, 3, 1e-15);
  expectClose(mean.residualSumOfSquares, 14, 1e-15);
  expectClose(mean.unscaledCovariance[0]!, 1 / 4, 1e-15);
  for (const h of mean.leverage) expectClose(h, 1 / 4, 1e-14);
});

test('residuals are orthogonal to the columns, leverages add up to the rank, in whatever units', () => {
  const rows = fc.array(fc.array(number, { minLength: 3, maxLength: 3 }), { minLength: 8, maxLength: 8 });
  fc.assert(
    fc.property(
      rows,
      fc.array(number, { minLength: 8, maxLength: 8 }),
      fc.integer({ min: -8, max: 8 }),
      (x, y, power) => {
        const unit = 10 ** power;
        const fit = leastSquares(flat(x), y, 3);
        const scaled = leastSquares(flat(x.map((r) => [r[0]!, unit * r[1]!, r[2]!])), y, 3);
        expect(scaled.rank).toBe(fit.rank);
        expect(scaled.kept).toEqual(fit.kept);
        expectClose(scaled.residualSumOfSquares, fit.residualSumOfSquares, 1e-8, 1e-10);
        expectClose(
          fit.leverage.reduce((a, b) => a + b, 0),
          fit.rank,
          1e-10,
        );
        for (const j of fit.kept)
          expectClose(
            x.reduce((sum, r, i) => sum + r[j]! * fit.residuals[i]!, 0),
            0,
            0,
            1e-10,
          );
      },
    ),
    { seed: 2, numRuns: 150 },
  );
});

test('a column that depends on earlier ones is left out, the later one, whatever its units', () => {
  const rows = Array.from({ length: 7 }, (_, i) => {
    const [a, b] = [Math.sin(i + 1), Math.cos(2 * i)];
    return [a, b, (a + b) * 1e6, i * 1e-9, 0];
  });
  const x = flat(rows);
  expect(independentColumns(x, 7, 5)).toEqual([0, 1, 3]);
  const fit = leastSquares(x, [1, 3, 2, 5, 4, 4, 1], 5);
  expect([fit.rank, fit.aliased, fit.kept]).toEqual([3, [false, false, true, false, true], [0, 1, 3]]);
  expect([fit.coefficients[2], fit.coefficients[4]]).toEqual([0, 0]);
  expect(
    independentColumns(
      flat([
        [1, 2, 3],
        [4, 5, 6],
        [7, 8, 9],
      ]),
      3,
      3,
    ),
  ).toEqual([0, 1]);
  expect(
    independentColumns(
      flat([
        [0.1, 0.2, 0.3],
        [0.4, 0.5, 0.6],
        [0.7, 0.8, 0.9],
      ]),
      3,
      3,
    ),
  ).toEqual([0, 1]);
});

test('more columns than rows, no column at all, lengths that do not fit', () => {
  const wide = leastSquares(
    flat([
      [1, 2, 3],
      [4, 5, 7],
    ]),
    [1, 2],
    3,
  );
  expect([wide.rank, wide.kept]).toEqual([2, [0, 1]]);
  const none = leastSquares(flat([[0], [0]]), [3, 4], 1);
  expect([none.rank, none.coefficients, none.residualSumOfSquares]).toEqual([0, [0], 25]);
  expect(() => leastSquares(Float64Array.of(1, 2, 3), [1, 2], 2)).toThrow(/x: found 3/);
});

describe('orthogonal factors of groups with other columns beside them', () => {
  const random = createRandom(8, 'groups');
  const [n, groups] = [60, 7];
  const beside = [() => random.normal(), () => 1e6 + random.uniform()];
  const rows = Array.from({ length: n }, (_, i) => [
    ...Array.from({ length: groups }, (_, g) => Number(i % 9 === g) * (1 + (i % 2))),
    ...beside.map((draw) => draw()),
  ]);
  const p = groups + beside.length;
  const { q, r, distance, logDetR } = orthogonalFactors(Float64Array.from(rows.flat()), n, p);

  it('give back the matrix from orthonormal columns and an upper triangle', () => {
    for (let a = 0; a < p; a++)
      for (let b = 0; b < p; b++) {
        let inner = 0;
        for (let i = 0; i < n; i++) inner += q[i * p + a]! * q[i * p + b]!;
        expect(Math.abs(inner - Number(a === b)), `${a}, ${b}`).toBeLessThan(1e-14);
        if (a > b) expect(r[a * p + b]).toBe(0);
      }
    rows.forEach((row, i) => {
      row.forEach((value, j) => {
        let sum = 0;
        for (let k = 0; k <= j; k++) sum += q[i * p + k]! * r[k * p + j]!;
        expect(Math.abs(sum - value)).toBeLessThanOrEqual(1e-13 * Math.max(1, Math.abs(value)));
      });
    });
  });

  it('tell distances and the determinant as they are with the columns the other way round', () => {
    const turned = orthogonalFactors(Float64Array.from(rows.flatMap((row) => [...row].reverse())), n, p);
    expect(Math.abs(logDetR - turned.logDetR)).toBeLessThan(1e-9);
    expect([...distance.subarray(0, groups)]).toEqual(Array.from({ length: groups }, () => 1));
    expect(distance[p - 1]).toBeGreaterThan(1e-8);
  });

  it('see a column that the groups make up', () => {
    const made = rows.map((row) => [...row.slice(0, groups), row[0]! - 3 * row[2]!]);
    const found = orthogonalFactors(Float64Array.from(made.flat()), n, groups + 1);
    expect(found.distance[groups]).toBeLessThan(1e-14);
  });
});
