import { expect } from 'vitest';
import { noteDigits } from '../../support/digits.ts';

/** |actual - expected| ≤ atol + rtol·|expected|; null only where null is expected. Returns the relative error. */
export function expectClose(actual: number | null, expected: number | null, rtol: number, atol = 0): number {
  if (expected === null || actual === null) {
    expect(actual).toBe(expected);
    return 0;
  }
  noteDigits(actual, expected, atol);
  const error = Math.abs(actual - expected);
  if (!(error <= atol + rtol * Math.abs(expected)))
    expect.fail(`found ${actual}, expected ${expected}: off by ${error}`);
  return expected === 0 ? error : error / Math.abs(expected);
}
