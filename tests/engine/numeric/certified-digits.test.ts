import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { leastSquares } from '../../../engine/numeric/least-squares.ts';

interface StoredSet {
  name: string;
  x: number[][];
  y: number[];
  certified: { coefficients: number[]; standardErrors: number[] };
  exact: { residualSumOfSquares: number };
}

const { sets }: { sets: StoredSet[] } = JSON.parse(readFileSync('tests/reference/strd/strd.json', 'utf8'));

/** Digits that agree: -log10 of the relative error, of the absolute error where zero is expected; at most 15. */
function digits(found: number, expected: number): number {
  const error = Math.abs(found - expected) / (expected === 0 ? 1 : Math.abs(expected));
  return Math.min(15, -Math.log10(error));
}

/** Fewest digits asked of coefficients and of standard errors. */
const ASKED: Record<string, [number, number]> = {
  Longley: [13, 12],
  Filip: [7, 7],
  Wampler1: [13, 13],
  Wampler2: [12, 13],
  Wampler3: [12, 12],
  Wampler4: [11, 12],
  Wampler5: [9, 12],
  NoInt1: [14, 14],
  NoInt2: [14, 14],
};

test.each(sets)("$name: NIST's certified values", ({ name, x, y, certified, exact }) => {
  const p = x[0]!.length;
  const fit = leastSquares(Float64Array.from(x.flat()), y, p);
  const variance = fit.residualSumOfSquares / (y.length - fit.rank);
  const errors = fit.kept.map((_, j) => Math.sqrt(variance * fit.unscaledCovariance[j * p + j]!));
  expect(fit.rank).toBe(p);
  const reached = [
    Math.min(...certified.coefficients.map((b, j) => digits(fit.coefficients[j]!, b))),
    Math.min(...certified.standardErrors.map((s, j) => digits(errors[j]!, s))),
  ];
  const least = ASKED[name]!;
  console.log(
    `${name}: ${reached[0]!.toFixed(1)} digits of coefficients, ${reached[1]!.toFixed(1)} of standard errors`,
  );
  expect(reached[0]).toBeGreaterThanOrEqual(least[0]);
  expect(reached[1]).toBeGreaterThanOrEqual(least[1]);
  if (exact.residualSumOfSquares > 0)
    expect(digits(fit.residualSumOfSquares, exact.residualSumOfSquares)).toBeGreaterThanOrEqual(least[1]);
});
