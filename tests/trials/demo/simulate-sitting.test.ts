import { describe, expect, it } from 'vitest';
import { demoTasters, habitualScores } from '../../../trials/demo/demo-tasters.ts';
import {
  DEMO_ATTRIBUTES,
  HIDDEN_RATIO,
  referenceScores,
  trueScores,
} from '../../../trials/demo/demo-truth.ts';
import { type SimulatedSitting, simulateSitting } from '../../../trials/demo/simulate-sitting.ts';

const tasters = demoTasters();
const grams = { peel: 1.52, noot: 0.8, thiol: 0.48, pink: 0.64, quassia: 0.56 };
const hidden = { mix: 'h', grams, dose: HIDDEN_RATIO.dose };

function sitting(seed: number, cups: readonly string[], label = 'evening'): SimulatedSitting {
  const trays = tasters.map(({ name }) => ({ assessor: name, cups: cups.map((mix) => ({ mix })) }));
  return { mixes: [hidden], sittingLabel: label, trays, seed };
}

const mean = (list: readonly number[]) => list.reduce((a, b) => a + b, 0) / list.length;
const deviation = (list: readonly number[]) => Math.sqrt(mean(list.map((x) => (x - mean(list)) ** 2)));

/** Scores of one attribute, over many seeds, by assessor. */
function many(cups: readonly string[], place: number, attribute: string, seeds = 400): Map<string, number[]> {
  const found = new Map<string, number[]>(tasters.map(({ name }) => [name, []]));
  for (let seed = 1; seed <= seeds; seed++)
    for (const row of simulateSitting(sitting(seed, cups)))
      if (row.position === place && row.scores[attribute] != null)
        found.get(row.assessor)!.push(row.scores[attribute]!);
  return found;
}

describe('the invented tasters', () => {
  it('are six, the same at every call, with P4 on a small scale and P5 nearly blind to thiols', () => {
    expect(demoTasters()).toEqual(tasters);
    expect(tasters.map(({ name }) => name)).toEqual(['P1', 'P2', 'P3', 'P4', 'P5', 'P6']);
    const slope = (name: string, id: string) =>
      tasters.find((t) => t.name === name)!.slopes[DEMO_ATTRIBUTES.indexOf(id as 'zest')]!;
    for (const id of DEMO_ATTRIBUTES) expect(slope('P4', id)).toBe(0.6);
    expect(slope('P5', 'catty')).toBe(0.2);
    expect(slope('P5', 'juicy')).toBe(0.5);
    for (const name of ['P1', 'P2', 'P3', 'P6']) {
      expect(slope(name, 'zest')).toBeGreaterThanOrEqual(0.8);
      expect(slope(name, 'zest')).toBeLessThanOrEqual(1.2);
    }
  });

  it('rank the mixes alike whatever their slopes', () => {
    const more = trueScores([0.45, 0.15, 0.12, 0.14, 0.14], 0.3);
    for (const taster of tasters)
      expect(habitualScores(taster, more)[0]).toBeGreaterThan(habitualScores(taster, referenceScores())[0]!);
  });
});

describe('a simulated sitting', () => {
  it('is the same at the same seed, another at another', () => {
    const cups = ['reference', 'h'];
    expect(simulateSitting(sitting(1, cups))).toEqual(simulateSitting(sitting(1, cups)));
    expect(simulateSitting(sitting(1, cups))).not.toEqual(simulateSitting(sitting(2, cups)));
  });

  it('gives whole scores on the scale, about 2 in 100 missing', () => {
    let missing = 0;
    let answers = 0;
    for (let seed = 1; seed <= 60; seed++)
      for (const row of simulateSitting(sitting(seed, ['h', 'reference', 'h', 'reference'])))
        for (const score of Object.values(row.scores)) {
          answers++;
          if (score === null) missing++;
          else {
            expect(Number.isInteger(score)).toBe(true);
            expect(score).toBeGreaterThanOrEqual(0);
            expect(score).toBeLessThanOrEqual(100);
          }
        }
    // 8640 answers: one standard error is 0.15 in 100
    expect(Math.abs(missing / answers - 0.02)).toBeLessThan(0.006);
  });

  it('has cup noise of nine points within a taster and mix', () => {
    // 400 cups: one standard error of a deviation is 0.32
    for (const scores of many(['h', 'reference'], 2, 'zest').values())
      expect(Math.abs(deviation(scores) - 9)).toBeLessThan(1.3);
  });

  it('keeps a taster’s own reaction to a mix from pouring to pouring', () => {
    const first = many(['reference', 'h'], 2, 'spice');
    const later = many(['reference', 'reference', 'h'], 3, 'spice');
    for (const [name, scores] of first)
      expect(Math.abs(mean(scores) - mean(later.get(name)!))).toBeLessThan(2.6);
  });

  it('reads the first cup three points more bitter', () => {
    const cups = ['h', 'h'];
    const gap = tasters.map(({ name }) => {
      return mean(many(cups, 1, 'bitter').get(name)!) - mean(many(cups, 2, 'bitter').get(name)!);
    });
    expect(Math.abs(mean(gap) - 3)).toBeLessThan(0.8);
  });

  it('reads a cup after a very bitter one two points less juicy', () => {
    const bitter = {
      mix: 'b',
      grams: { peel: 0.8, noot: 1.2, thiol: 0.4, pink: 0.6, quassia: 1 },
      dose: 0.33,
    };
    expect(trueScores([0.2, 0.3, 0.1, 0.15, 0.25], 0.33)[3]).toBeGreaterThan(60);
    let gap = 0;
    let count = 0;
    for (let seed = 1; seed <= 300; seed++) {
      const rows = simulateSitting({ ...sitting(seed, ['h', 'h', 'b', 'h']), mixes: [hidden, bitter] });
      for (const { name } of tasters) {
        const own = rows.filter((row) => row.assessor === name).map((row) => row.scores['juicy']);
        if (own[1] == null || own[3] == null) continue;
        gap += own[3] - own[1];
        count++;
      }
    }
    expect(Math.abs(gap / count + 2)).toBeLessThan(1);
  });

  it('refuses a taster or a mix that does not exist', () => {
    expect(() => simulateSitting({ ...sitting(1, ['nowhere']) })).toThrow(/mix: found "nowhere"/);
    const strangers = [{ assessor: 'P9', cups: [{ mix: 'h' }] }];
    expect(() => simulateSitting({ ...sitting(1, []), trays: strangers })).toThrow(/assessor: found "P9"/);
  });
});
