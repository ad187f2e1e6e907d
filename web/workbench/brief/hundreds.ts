import { readNumber } from '../numbers.ts';

/** Shares are typed in parts of a hundred and kept as fractions: `7` is 0.07. */

/** A fraction as it is typed. The point moves in the digits, so that 0.07 gives `7`, not 7.000000000000001. */
export function hundredsOf(share: number | undefined): string {
  return share === undefined ? '' : String(moved(share, 2));
}

/** What was typed as a fraction; what is no number stays as it was typed, and nothing stays nothing. */
export function shareOf(typed: string): number | string | undefined {
  const parts = readNumber(typed);
  if (parts !== null) return moved(parts, -2);
  return typed.trim() === '' ? undefined : typed;
}

/** A text about fractions, told in parts of a hundred. */
export function inHundreds(text: string): string {
  return text.replace(/(?<![\w.-])\d+(?:\.\d+)?(?:e[+-]?\d+)?(?![\w-])/g, (digits) =>
    hundredsOf(Number(digits)),
  );
}

function moved(value: number, places: number): number {
  const [digits, exponent = '0'] = String(value).split('e');
  return Number(`${digits}e${Number(exponent) + places}`);
}
