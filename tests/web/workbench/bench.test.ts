import { describe, expect, it } from 'vitest';
import demo from '../../../trials/demo/brief.json' with { type: 'json' };
import type { RoundMix, RoundView } from '../../../trials/schema/api.ts';
import { Brief } from '../../../trials/schema/brief.ts';
import { doseLines, ethanolOf } from '../../../web/workbench/bench/dosing.ts';
import { ageSpread, duration, restingOf } from '../../../web/workbench/bench/resting.ts';
import { likelySitting, namesIn, sittingFault } from '../../../web/workbench/bench/sitting-draft.ts';
import {
  bottlesOf,
  lineToWeigh,
  readBalance,
  toShow,
  totalBefore,
} from '../../../web/workbench/bench/weighing.ts';

const brief = Brief.parse(demo);

function mix(name: string, more: Partial<RoundMix> = {}): RoundMix {
  const grams = { peel: 1.5, noot: 0.8, thiol: 0.5, pink: 0.7, quassia: 0.5 };
  const planned = { ratios: {}, grams, settings: { dose: 0.25 } };
  return {
    mix: name,
    blend: name,
    repeats: null,
    again: false,
    planned,
    weighed: null,
    weighedAt: null,
    lots: {},
    why: '',
    note: '',
    ...more,
  };
}

function round(mixes: RoundMix[], number = 2): RoundView {
  return { round: number, state: 'open', steps: [], mixes, sittings: [], reading: null, restHours: 24 };
}

describe('bottles', () => {
  it('are weighed once for all mixes poured from them, and not again where they stand from an earlier round', () => {
    const now = round([
      mix('m13'),
      mix('m14', { blend: 'm13' }),
      mix('m15', { blend: 'm2' }),
      mix('m5', { again: true }),
    ]);
    const bottles = bottlesOf(brief, now, [round([mix('m2')], 1)]);
    expect(bottles.map(({ blend, mixes }) => [blend, mixes])).toEqual([['m13', ['m13', 'm14']]]);
  });
});

describe('weighing', () => {
  const [bottle] = bottlesOf(brief, round([mix('m1')]), []);
  const [peel, noot] = bottle!.lines;
  const reading = (typed: string, showing: 'each' | 'total', noted = {}, line = peel!) =>
    readBalance(typed, { bottle: bottle!, noted, line, showing });

  it('goes line by line until the bottle is whole', () => {
    expect(lineToWeigh(bottle!, {})?.id).toBe('peel');
    expect(lineToWeigh(bottle!, { peel: 1.5 })?.id).toBe('noot');
    expect(lineToWeigh(bottle!, { peel: 1, noot: 1, thiol: 1, pink: 1, quassia: 0 })).toBeNull();
  });

  it('shows the mass of one, or the total with what is inside', () => {
    expect(toShow(bottle!, { peel: 1.53 }, noot!, 'each')).toBe(0.8);
    expect(toShow(bottle!, { peel: 1.53 }, noot!, 'total')).toBe(2.33);
    expect(totalBefore(bottle!, { peel: 1.53 }, 'noot')).toBe(1.53);
  });

  it('keeps what was weighed, not what was planned', () => {
    expect(reading('1.62', 'each')).toEqual({ grams: 1.62, doubt: null });
    expect(reading('2,41', 'total', { peel: 1.53 }, noot)).toEqual({ grams: 0.88, doubt: null });
  });

  it('refuses only what no balance can show', () => {
    expect(reading('', 'each')).toHaveProperty('fault');
    expect(reading('a bit', 'each')).toHaveProperty('fault');
    expect(reading('-1', 'each')).toHaveProperty('fault');
    expect(reading('1.2', 'total', { peel: 1.53 }, noot)).toHaveProperty('fault');
  });

  it('doubts a doubled, a missed and a misplaced mass once, and keeps it when told so', () => {
    expect(reading('3', 'each')).toMatchObject({ grams: 3, doubt: expect.stringContaining('twice') });
    expect(reading('15', 'each')).toMatchObject({
      grams: 15,
      doubt: expect.stringContaining('decimal point'),
    });
    expect(reading('0', 'each')).toMatchObject({ grams: 0, doubt: expect.stringContaining('Nothing') });
    expect(reading('2.3', 'each', { peel: 1.5 }, noot)).toMatchObject({
      doubt: expect.stringContaining('set to zero'),
    });
  });
});

describe('resting', () => {
  const at = (hours: number) => new Date(hours * 3_600_000).toISOString();
  const resting = restingOf(
    round([
      mix('m1', { weighedAt: at(0) }),
      mix('m2', { weighedAt: at(5) }),
      mix('m3'),
      mix('m9', { again: true }),
    ]),
    26 * 3_600_000,
  );

  it('counts from the weighing of each bottle', () => {
    expect(resting.map(({ blend, hours, left }) => [blend, hours, left])).toEqual([
      ['m1', 26, 0],
      ['m2', 21, 3],
      ['m3', null, null],
    ]);
  });

  it('says when bottles are unevenly old: more than a tenth of the rest', () => {
    expect(ageSpread(resting, 24)).toEqual({ hours: 5, uneven: true });
    expect(ageSpread(resting, 72).uneven).toBe(false);
    expect(ageSpread([], 24)).toEqual({ hours: 0, uneven: false });
  });

  it('is told in minutes, hours and days', () => {
    expect([0.2, 5.5, 50].map(duration)).toEqual(['12 min', '5 h 30 min', '2 d 2 h']);
  });
});

describe('doses', () => {
  // The demo's own notes: six cups of 40 mL with a tenth over need 0.066 mL of concentrate at 0.25 mL/L.
  it('of the demo are those of its notes', () => {
    const [line] = doseLines(brief, [{ mix: 'm1', settings: { dose: 0.25 } }], 6);
    expect(line!.drink).toBeCloseTo(264, 9);
    expect(line!.concentrate).toBeCloseTo(0.066, 12);
  });

  // The same notes: four cups of 40 mL hold 0.02 to 0.04 g of ethanol over the range of doses.
  it('bring the ethanol that the notes state', () => {
    expect(ethanolOf(brief, 0.17, 4)).toBeCloseTo(0.0189, 4);
    expect(ethanolOf(brief, 0.33, 4)).toBeCloseTo(0.0367, 4);
  });

  it('are not guessed where the brief says nothing', () => {
    const { drink: _, ...dry } = brief;
    expect(doseLines(dry, [{ mix: 'm1', settings: {} }], 6)[0]).toEqual({
      mix: 'm1',
      perLitre: null,
      drink: null,
      concentrate: null,
    });
    expect(ethanolOf(dry, 0.2, 4)).toBeNull();
  });
});

describe('a sitting to be drawn', () => {
  const trial = { brief, roundViews: [] } as never;

  it('takes as many mixes as a taster can drink beside the reference', () => {
    const draft = likelySitting(trial, round(['m1', 'm2', 'm3', 'm4', 'm5'].map((name) => mix(name))));
    expect(draft.mixes).toEqual(['m1', 'm2', 'm3']);
    expect(draft.reference).toBe(true);
    expect(namesIn(draft.assessors)).toEqual(['P1', 'P2', 'P3', 'P4', 'P5', 'P6']);
    expect(sittingFault(draft)).toBeNull();
  });

  it('is not drawn with a taster named twice, without tasters or without mixes', () => {
    const draft = likelySitting(trial, round([mix('m1')]));
    expect(sittingFault({ ...draft, assessors: 'Ada, Bo; Ada' })).toContain('twice');
    expect(sittingFault({ ...draft, assessors: ' ,' })).not.toBeNull();
    expect(sittingFault({ ...draft, mixes: [] })).not.toBeNull();
    expect(sittingFault({ ...draft, label: ' ' })).not.toBeNull();
  });
});
