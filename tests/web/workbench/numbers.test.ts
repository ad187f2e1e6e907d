import { describe, expect, it } from 'vitest';
import * as n from '../../../web/workbench/numbers.ts';

describe('numbers for people', () => {
  it('show grams to one step of the balance', () => {
    expect(n.grams(1.5, 0.01)).toBe('1.50');
    expect(n.grams(1.5, 1)).toBe('2');
    expect(n.grams(0.0012, 0.0001)).toBe('0.0012');
    expect(n.grams(0.002, 1e-3)).toBe('0.002');
    expect(n.decimalsOf(2.5e-7)).toBe(6);
  });

  it('name a few of many', () => {
    const names = Array.from({ length: 34 }, (_, i) => `m${i + 1}`);
    expect(n.fewOf(names)).toBe('m1, m2, m3, m4, m5, m6 and 28 more');
    expect(n.fewOf(names.slice(0, 7))).toBe('m1, m2, m3, m4, m5, m6 and m7');
  });

  it('never tell a small share as none', () => {
    expect([0.38, 0.0004, 0.00051, 0].map(n.parts)).toEqual(['38.0', '0.04', '0.1', '0.0']);
  });

  it('tell a chance by counting, never as nothing or all', () => {
    expect(n.chance(0.783)).toBe('78 in 100');
    expect(n.chance(0)).toBe('fewer than 1 in 100');
    expect(n.chance(1)).toBe('more than 99 in 100');
    expect(n.chance(0.995)).toBe('more than 99 in 100');
    expect(n.chance(0.9949)).toBe('99 in 100');
    expect(n.chance(null)).toBe('not known');
  });

  it('keep three figures and say so when there is none', () => {
    expect([12345, 123.4, 1.2345, 0.012345, 0, null, Number.NaN].map((v) => n.figure(v))).toEqual([
      '12345',
      '123',
      '1.23',
      '0.0123',
      '0',
      '–',
      '–',
    ]);
    expect(n.figure(-1.5)).toBe('−1.50');
    expect(n.figure(2e-9)).toBe('2.00e−9');
  });

  it('sign changes with a true minus, and no minus on nothing', () => {
    expect([3, -2.04, -0.0001].map((v) => n.change(v))).toEqual(['+3.0', '−2.0', '0.0']);
  });

  it('round scores by the length of the scale', () => {
    expect(n.score(51.6, [0, 100])).toBe('52');
    expect(n.score(5.16, [1, 9])).toBe('5.2');
    expect(n.score(0.5, [0, 1])).toBe('0.50');
    expect(n.score(0.0021, [0, 0.005])).toBe('0.0021');
  });

  it('quote probabilities as people do', () => {
    expect([0.2, 0.0004, null].map(n.probability)).toEqual(['0.200', '< 0.001', '–']);
  });

  it('are read with a point or a comma, and nothing else is a number', () => {
    expect(['1,5', ' 2.25 ', '.5', '1e-3', '−4', '+3'].map(n.readNumber)).toEqual([
      1.5, 2.25, 0.5, 0.001, -4, 3,
    ]);
    for (const text of ['', 'x', '1.2.3', '1,000.5', '0x10', 'NaN', 'Infinity', '1e999', '1 2', '5g'])
      expect(n.readNumber(text)).toBeNull();
  });

  it('list words as people do', () => {
    expect([[], ['a'], ['a', 'b'], ['a', 'b', 'c']].map((list) => n.listed(list))).toEqual([
      '',
      'a',
      'a and b',
      'a, b and c',
    ]);
    expect([n.count(1, 'mix', 'mixes'), n.count(2, 'mix', 'mixes'), n.count(0, 'cup')]).toEqual([
      '1 mix',
      '2 mixes',
      '0 cups',
    ]);
  });

  it('lets figures of one column stand under each other', () => {
    const say = n.aligned([48.4, 0.122, null, -9.87]);
    expect([48.4, 0.122, null, -9.87].map(say)).toEqual(['48.4', '0.1', '–', '−9.9']);
    expect([3, 14].map(n.aligned([3, 14]))).toEqual(['3', '14']);
    expect([0.0312, 0.2].map(n.aligned([0.0312, 0.2]))).toEqual(['0.031', '0.200']);
    expect([0, undefined].map(n.aligned([0, undefined]))).toEqual(['0', '–']);
    expect([-0.04, 12.3].map(n.aligned([-0.04, 12.3]))).toEqual(['−0.04', '12.3']);
    expect([1e-13, 12.3].map(n.aligned([1e-13, 12.3]))).toEqual(['0.0', '12.3']);
  });
});
