import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { dropwise, Folder } from '../support/command-line.ts';
import { TINY_BRIEF } from '../support/tiny-trial.ts';

let folder: Folder;
beforeAll(() => {
  folder = new Folder();
});
afterAll(() => {
  folder.remove();
});

const LADDER = [
  'assessor,concentration,correct',
  ...['P1,1,0', 'P1,2,1', 'P1,4,1', 'P1,8,1', 'P2,1,1', 'P2,2,0', 'P2,4,0', 'P2,8,1'],
].join('\n');

describe('threshold', () => {
  test('each taster and the group by the best-estimate method, by hand', async () => {
    const { status, out } = await dropwise('threshold', folder.write('ladder.csv', LADDER), '--json');
    expect(status).toBe(0);
    const { individual, threshold, bound } = JSON.parse(out);
    // P1 missed 1, found 2: √2; P2 missed 4, found 8: √32; the group √(√2 √32) = √8
    expect(individual[0].threshold).toBeCloseTo(Math.SQRT2, 12);
    expect(individual[1].threshold).toBeCloseTo(Math.sqrt(32), 12);
    expect(threshold).toBeCloseTo(Math.sqrt(8), 12);
    expect(bound).toBeNull();
  });

  test('becomes a bound: at that share a litre holds the threshold', async () => {
    const brief = {
      ...TINY_BRIEF,
      batch: { grams: 4, readability: 0.01 },
      concentrate: { carrier: 'ethanol-96', percentVol: 76, fillMillilitres: 25 },
      settings: [{ id: 'dose', name: 'Dose', low: 0.2, high: 0.4 }],
      drink: { name: 'soda', cupMillilitres: 30, percentVol: 0, dosePerLitre: { setting: 'dose' } },
    };
    const args = ['threshold', folder.write('ladder.csv', LADDER), '--brief', folder.write('b.json', brief)];
    const { status, out, err } = await dropwise(...args, '--component', 'peel', '--json');
    expect([status, err]).toEqual([0, '']);
    const { component, unnoticed, noticed } = JSON.parse(out).bound;
    expect(component).toBe('peel');
    // mg a litre = 1000 × 4 g × share / 25 mL × dose
    // told in four decimals, rounded to the safe side
    const [exactly, twice] = [(Math.sqrt(8) * 25) / (4000 * 0.4), (Math.sqrt(8) * 25) / (4000 * 0.2)];
    expect([unnoticed <= exactly, unnoticed > exactly - 1e-4]).toEqual([true, true]);
    expect([noticed >= twice, noticed < twice + 1e-4]).toEqual([true, true]);
    expect((1000 * 4 * unnoticed * 0.4) / 25).toBeLessThanOrEqual(Math.sqrt(8));
    const stranger = await dropwise(...args, '--component', 'salt');
    expect([stranger.status, stranger.err]).toEqual([1, expect.stringContaining('component: found "salt"')]);
    expect((await dropwise(...args)).status).toBe(2);
  });

  test('refuses an answer that is no answer, one given twice and one that is missing', async () => {
    for (const [text, says] of [
      [LADDER.replace('P1,2,1', 'P1,2,2'), /line 3, column correct: found "2", allowed 1 \(found\) or 0/],
      [
        LADDER.replace('P1,2,1', 'P1,1,1'),
        /line 3, column concentration: found 1, allowed each concentration once/,
      ],
      [LADDER.replace('P1,2,1\n', ''), /P1: found "no answer at 2", allowed one at every concentration/],
      [LADDER.replace('P1,2,1', 'P1,0,1'), /mg per litre, above 0/],
    ] as const) {
      const { status, err } = await dropwise('threshold', folder.write('ladder.csv', text));
      expect(status).toBe(1);
      expect(err).toMatch(says);
    }
  });
});
