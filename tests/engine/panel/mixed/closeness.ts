import { expect } from 'vitest';
import { noteDigits } from '../../../support/digits.ts';

/** |actual - expected| ≤ atol + rtol·|expected|. */
export function expectClose(actual: number | null, expected: number, rtol: number, atol = 0): void {
  expect(actual).not.toBeNull();
  noteDigits(actual, expected, atol);
  const error = Math.abs(actual! - expected);
  const allowed = atol + rtol * Math.abs(expected);
  if (!(error <= allowed))
    expect.fail(`found ${actual}, expected ${expected}: off by ${error}, allowed ${allowed}`);
}

export function expectAllClose(
  actual: ArrayLike<number>,
  expected: ArrayLike<number>,
  rtol: number,
  atol = 0,
): void {
  expect(actual.length).toBe(expected.length);
  for (let i = 0; i < expected.length; i++) expectClose(actual[i]!, expected[i]!, rtol, atol);
}
