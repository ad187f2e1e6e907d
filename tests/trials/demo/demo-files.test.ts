import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { demoMixesCsv, demoScoresCsv } from '../../../trials/demo/demo-files.ts';
import { demoBrief, demoRoundOne } from '../../../trials/demo/demo-round-one.ts';
import { Brief } from '../../../trials/schema/brief.ts';

const example = (path: string) => readFileSync(new URL(`../../../examples/${path}`, import.meta.url), 'utf8');

describe('the demo’s example files', () => {
  it('are what the simulator writes', () => {
    expect(example('demo/mixes.csv')).toBe(demoMixesCsv(demoBrief(), demoRoundOne()));
    expect(example('demo/scores.csv')).toBe(demoScoresCsv(demoBrief(), demoRoundOne()));
    expect(Brief.parse(JSON.parse(example('demo/brief.json')))).toEqual(demoBrief());
  });

  it('hold twelve mixes, 96 cups and a few missing answers', () => {
    const lines = (path: string) => example(path).trimEnd().split('\n').slice(1);
    expect(lines('demo/mixes.csv')).toHaveLength(12);
    expect(lines('demo/scores.csv')).toHaveLength(96);
    const missing = lines('demo/scores.csv')
      .flatMap((line) => line.split(','))
      .filter((cell) => cell === '').length;
    // 576 answers at 2 in 100: 11.5 expected
    expect(missing).toBeGreaterThan(2);
    expect(missing).toBeLessThan(25);
  });
});

/**
 * NIST/SEMATECH e-Handbook, section 5.5.4.2: with the simplex lattice {3, 2} the quadratic's coefficients are the
 * means at the corners, and 4·(mean half-way) - 2·(sum of the two corner means).
 */
describe('the yarn example', () => {
  it('reproduces the published coefficients by hand', () => {
    const rows = example('yarn/scores.csv')
      .trimEnd()
      .split('\n')
      .slice(1)
      .map((line) => line.split(','));
    expect(rows).toHaveLength(15);
    const at = (mix: string) => {
      const scores = rows.filter((row) => row[0] === mix).map((row) => Number(row[3]));
      return scores.reduce((a, b) => a + b, 0) / scores.length;
    };
    const [e, s, p] = ['y1', 'y3', 'y5'].map(at) as [number, number, number];
    const pairs = [4 * at('y2') - 2 * (e + s), 4 * at('y6') - 2 * (e + p), 4 * at('y4') - 2 * (s + p)];
    [11.7, 9.4, 16.4, 19.0, 11.4, -9.6].forEach((published, i) => {
      expect([e, s, p, ...pairs][i]).toBeCloseTo(published, 9);
    });
    expect(Brief.safeParse(JSON.parse(example('yarn/brief.json'))).success).toBe(true);
  });
});
