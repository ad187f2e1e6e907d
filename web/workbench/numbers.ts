import { scoreDecimals } from '../charts/aims.ts';

/** A number of decimals that shows one step of the balance. */
export function decimalsOf(readability: number): number {
  const [digits = '', exponent = '0'] = String(readability).split('e');
  const point = digits.indexOf('.');
  return Math.min(6, Math.max(0, (point < 0 ? 0 : digits.length - point - 1) - Number(exponent)));
}

/** `1.52` on a balance that shows hundredths. */
export function grams(value: number, readability: number): string {
  return value.toFixed(decimalsOf(readability));
}

/** A share as parts of a hundred: `38.0`; one that would read as nothing at all has two figures: `0.04`. */
export function parts(share: number): string {
  const text = (100 * share).toFixed(1);
  return share > 0 && text === '0.0' ? figure(Number((100 * share).toPrecision(2)), 1) : text;
}

/** A score or another figure at a sensible length: three figures, never an exponent for everyday sizes. */
export function figure(value: number | null | undefined, digits = 3): string {
  if (value === null || value === undefined || !Number.isFinite(value)) return '–';
  if (value === 0) return '0';
  const size = Math.abs(value);
  if (size >= 1e6 || size < 1e-4) return value.toExponential(digits - 1).replace('-', '−');
  const places = Math.max(0, digits - 1 - Math.floor(Math.log10(size)));
  return minus(value.toFixed(Math.min(places, 6)));
}

/**
 * Figures of one column, all with as many decimals, so that they stand under each other: as many as give the largest of
 * them `digits` figures, none where all are whole. One that would read as nothing beside them has a figure of its own.
 */
export function aligned(
  values: readonly (number | null | undefined)[],
  digits = 3,
): (value: number | null | undefined) => string {
  const told = values.filter((value): value is number => Number.isFinite(value));
  const largest = Math.max(0, ...told.map(Math.abs));
  const whole = largest === 0 || told.every((value) => Number.isInteger(Number(value.toPrecision(12))));
  const places = whole ? 0 : Math.min(6, Math.max(0, digits - 1 - Math.floor(Math.log10(largest))));
  return (value) => {
    if (value === null || value === undefined || !Number.isFinite(value)) return '–';
    const text = minus(value.toFixed(places));
    return Number(text) === 0 && Math.abs(value) > 1e-12 * largest ? figure(value, 1) : text;
  };
}

/** A score, with as many decimals as its scale asks for. */
export function score(value: number | null | undefined, scale: readonly [number, number]): string {
  if (value === null || value === undefined) return '–';
  return minus(value.toFixed(scoreDecimals(scale)));
}

/** `+3` or `−2`. */
export function change(value: number, decimals = 1): string {
  const text = value.toFixed(decimals);
  return Number(text) > 0 ? `+${text}` : minus(text);
}

/** A chance in words of counting: `78 in 100`. */
export function chance(value: number | null | undefined): string {
  if (value === null || value === undefined) return 'not known';
  if (value < 0.005) return 'fewer than 1 in 100';
  if (value >= 0.995) return 'more than 99 in 100';
  return `${Math.round(100 * value)} in 100`;
}

/** A probability of a test as people quote it. */
export function probability(p: number | null | undefined): string {
  if (p === null || p === undefined) return '–';
  return p < 0.001 ? '< 0.001' : p.toFixed(3);
}

/** A true minus instead of a hyphen. */
function minus(text: string): string {
  return Number(text) === 0 ? text.replace('-', '') : text.replace('-', '−');
}

/** Reads what a person typed: decimal point or comma; null where it is no number. */
export function readNumber(text: string): number | null {
  const plain = text.trim().replace(',', '.').replace('−', '-');
  if (!/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(plain)) return null;
  const value = Number(plain);
  return Number.isFinite(value) ? value : null;
}

/** A term of a model with its products as they are written: `dose × peel`. */
export function termWords(term: string): string {
  return term.replaceAll('*', ' × ');
}

/** `3 mixes`, `1 mix`. */
export function count(number: number, one: string, many = `${one}s`): string {
  return `${number} ${number === 1 ? one : many}`;
}

/** `a, b and c`. */
export function listed(words: readonly string[], last = 'and'): string {
  if (words.length < 2) return words.join('');
  return `${words.slice(0, -1).join(', ')} ${last} ${words.at(-1)}`;
}

/** `a, b and 30 more`: of many names the first few. */
export function fewOf(names: readonly string[], last = 'and', most = 6): string {
  return names.length <= most + 1
    ? listed(names, last)
    : listed([...names.slice(0, most), `${names.length - most} more`], last);
}

/** `25 Nov, 10:52` in the reader's own way. */
export function when(at: string): string {
  const date = new Date(at);
  if (Number.isNaN(date.getTime())) return at;
  return date.toLocaleString(undefined, {
    day: 'numeric',
    month: 'short',
    hour: '2-digit',
    minute: '2-digit',
  });
}
