import { scoreDecimals } from '../charts/aims.ts';

/** A figure for paper: three significant ones, never an exponent for everyday sizes. */
export function figure(value: number, digits = 3): string {
  if (value === 0) return '0';
  const places = Math.max(0, digits - 1 - Math.floor(Math.log10(Math.abs(value))));
  return String(Number(value.toFixed(Math.min(8, places))));
}

/** Decimals that show one step of the balance. */
export function decimals(readability: number): number {
  const [digits = '', exponent = '0'] = String(readability).split('e');
  const point = digits.indexOf('.');
  return Math.max(0, (point < 0 ? 0 : digits.length - point - 1) - Number(exponent));
}

/** A score, one decimal more than on the screen. */
export function score(value: number, scale: readonly [number, number]): string {
  return value.toFixed(scoreDecimals(scale) + 1).replace('-', '−');
}
