import { appendFileSync } from 'node:fs';
import { expect } from 'vitest';

/**
 * Notes how closely a number came to its outside value, for the table of `npm run checks`; does nothing else, and
 * nothing at all in an ordinary run.
 *
 * @param floor absolute difference that counts as none
 */
export function noteDigits(actual: number | null | undefined, expected: number, floor = 0): void {
  const file = process.env['DIGITS_FILE'];
  if (file === undefined || actual === null || actual === undefined) return;
  const { testPath = '', currentTestName = '' } = expect.getState();
  const off = Math.max(0, Math.abs(actual - expected) - floor);
  const error = off === 0 ? 0 : off / (Math.abs(expected) || 1);
  appendFileSync(file, `${JSON.stringify({ testPath, currentTestName, error })}\n`);
}
