import { expect } from 'vitest';

/** |found - expected| at most atol + rtol·|expected|. */
export function expectClose(found: number | null, expected: number, atol: number, rtol = 0): void {
  expect(found).not.toBeNull();
  expect(Math.abs(found! - expected), `found ${found}, expected ${expected}`).toBeLessThanOrEqual(
    atol + rtol * Math.abs(expected),
  );
}
