import type { DifferenceMethod } from './methods.ts';

/** What a method is called in a sentence. */
export const METHOD_WORDS: Record<DifferenceMethod, string> = {
  triangle: 'triangle test',
  'duo-trio': 'duo-trio test',
  tetrad: 'tetrad test',
  'two-afc': 'choice of one in two',
  'three-afc': 'choice of one in three',
};

export function percent(share: number): string {
  return `${Math.round(100 * share)} %`;
}

export function pWords(p: number): string {
  if (p < 0.001) return 'p below 0.001';
  return `p = ${p < 0.1 ? p.toPrecision(2) : p.toFixed(2)}`;
}

export function dPrimeWords(dPrime: number): string {
  return `d′ ${dPrime.toFixed(1)}`;
}
