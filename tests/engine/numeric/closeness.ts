import { expect } from 'vitest';
import { noteDigits } from '../../support/digits.ts';

/** |actual - expected| ≤ atol + rtol·|expected|. Returns the relative error (absolute where zero is expected). */
export function expectClose(actual: number, expected: number, rtol: number, atol = 0): number {
  noteDigits(actual, expected, atol);
  if (actual === expected) return 0;
  const error = Math.abs(actual - expected);
  if (!(error <= atol + rtol * Math.abs(expected)))
    expect.fail(`found ${actual}, expected ${expected}: off by ${error}`);
  return expected === 0 ? error : error / Math.abs(expected);
}
