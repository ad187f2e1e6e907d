import { describe, expect, it } from 'vitest';
import demo from '../../../trials/demo/brief.json' with { type: 'json' };
import type { RoundMix, RoundView } from '../../../trials/schema/api.ts';
import { Brief } from '../../../trials/schema/brief.ts';
import { gramsIn, settledReadings } from '../../../web/workbench/bench/balance-reading.ts';
import { doseLines, ethanolOf } from '../../../web/workbench/bench/dosing.ts';
import {
  beginPours,
  growth,
  inside,
  nextPour,
  readBalance,
  toShow,
  withCorrection,
  withoutLine,
  withPoured,
} from '../../../web/workbench/bench/pours.ts';
import { ageSpread, duration, restingOf, restMissing } from '../../../web/workbench/bench/resting.ts';
import {
  likelySitting,
  namesIn,
  sittingFault,
  untasted,
} from '../../../web/workbench/bench/sitting-draft.ts';
import { lotsOf } from '../../../web/workbench/bench/taken-from.tsx';
import { bottlesOf } from '../../../web/workbench/bench/weighing.ts';

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
    const bottles = bottlesOf({ brief }, now, [round([mix('m2')], 1)]);
    expect(bottles.map(({ blend, mixes }) => [blend, mixes])).toEqual([['m13', ['m13', 'm14']]]);
  });
});

describe('weighing', () => {
  const [bottle] = bottlesOf({ brief }, round([mix('m1')]), []);
  const empty = beginPours(null);
  const pouredAll = (grams: Readonly<Record<string, number>>) => beginPours(grams);
  const reading = (typed: string, showing: 'each' | 'total', pours = empty) =>
    readBalance(typed, {
      bottle: bottle!,
      pours,
      pour: nextPour(bottle!, pours)!,
      showing,
      readability: 0.01,
      tolerance: 0.02,
    });

  it('goes in the order of pouring: what lasts first, top notes last, the most first among equals', () => {
    expect(bottle!.lines.map(({ id }) => id)).toEqual(['peel', 'noot', 'pink', 'thiol', 'quassia']);
    const ranks = { peel: 3, noot: 1, thiol: 2, pink: 2, quassia: 0 };
    const [ordered] = bottlesOf({ brief, pouring: ranks }, round([mix('m1')]), []);
    expect(ordered!.lines.map(({ id }) => id)).toEqual(['quassia', 'noot', 'pink', 'thiol', 'peel']);
  });

  it('goes line by line until the bottle is whole', () => {
    expect(nextPour(bottle!, empty)?.line.id).toBe('peel');
    expect(nextPour(bottle!, pouredAll({ peel: 1.5 }))?.line.id).toBe('noot');
    expect(nextPour(bottle!, pouredAll({ peel: 1, noot: 1, thiol: 1, pink: 1, quassia: 0 }))).toBeNull();
  });

  it('weighs a stock where the plan says so', () => {
    const planned = {
      ...mix('m1').planned,
      weigh: [
        { component: 'thiol', strength: 5, grams: 10 },
        { component: 'peel', strength: 100, grams: 1.5 },
      ],
    };
    const [stocked] = bottlesOf({ brief }, round([mix('m1', { planned })]), []);
    expect(stocked!.lines.map(({ id, planned: grams }) => [id, grams])).toContainEqual(['thiol@5', 10]);
    expect(stocked!.lines.map(({ id }) => id)).not.toContain('thiol');
  });

  it('shows the mass of one, or the total with what is inside', () => {
    const pours = pouredAll({ peel: 1.53 });
    const pour = nextPour(bottle!, pours)!;
    expect(toShow(bottle!, pours, pour, 'each')).toBe(0.8);
    expect(toShow(bottle!, pours, pour, 'total')).toBe(2.33);
  });

  it('keeps what was weighed, not what was planned', () => {
    expect(reading('1.52', 'each')).toEqual({ grams: 1.52, off: null });
    expect(reading('2,34', 'total', pouredAll({ peel: 1.53 }))).toEqual({ grams: 0.81, off: null });
  });

  it('refuses only what no balance can show', () => {
    expect(reading('', 'each')).toHaveProperty('fault');
    expect(reading('a bit', 'each')).toHaveProperty('fault');
    expect(reading('-1', 'each')).toHaveProperty('fault');
    expect(reading('1.2', 'total', pouredAll({ peel: 1.53 }))).toHaveProperty('fault');
  });

  it('doubts a wrong pour once, and says how far off it is', () => {
    const saying = (says: string, over: boolean) => ({
      off: { over, says: expect.stringContaining(says) },
    });
    expect(reading('3', 'each')).toMatchObject({ grams: 3, ...saying('Twice the plan. 1.5 g, 100 %', true) });
    expect(reading('15', 'each')).toMatchObject(saying('decimal point', true));
    expect(reading('0', 'each')).toMatchObject(saying('Nothing', false));
    expect(reading('1.2', 'each', pouredAll({ peel: 1.5 }))).toMatchObject(saying('set to zero', true));
    expect(reading('1.4', 'each')).toMatchObject(saying('0.1 g, 7 %, too little', false));
  });

  it('answers too much with the smallest correction of the others, and ends at the planned ratio', () => {
    // Planned 1.5, 0.8, 0.7, 0.5, 0.5; the second is poured at 0.88, a tenth over: all grow by a tenth.
    let pours = withPoured(empty, nextPour(bottle!, empty)!, 1.5);
    pours = withPoured(pours, nextPour(bottle!, pours)!, 0.88);
    pours = withCorrection(bottle!, pours, 0.01);
    const seen: [string, number][] = [];
    for (let pour = nextPour(bottle!, pours); pour; pour = nextPour(bottle!, pours)) {
      seen.push([pour.line.id, pour.add]);
      pours = withPoured(pours, pour, pour.add);
    }
    expect(seen).toEqual([
      ['pink', 0.77],
      ['thiol', 0.55],
      ['quassia', 0.55],
      ['peel', 0.15],
    ]);
    expect(pours.noted).toEqual({ peel: 1.65, noot: 0.88, pink: 0.77, thiol: 0.55, quassia: 0.55 });
    expect(growth(bottle!, pours)).toBeCloseTo(1.1, 12);
    expect(inside(bottle!, pours)).toBe(4.4);
  });

  it('weighed anew forgets what a correction asked for', () => {
    const whole = pouredAll({ peel: 1.5, noot: 0.88, pink: 0.7, thiol: 0.5, quassia: 0.5 });
    const corrected = withCorrection(bottle!, whole, 0.01);
    expect(nextPour(bottle!, corrected)).toMatchObject({ again: true, add: 0.15 });
    const anew = withoutLine(corrected, 'noot');
    expect(nextPour(bottle!, anew)).toMatchObject({ line: { id: 'noot' }, add: 0.8, again: false });
  });
});

describe('bottles of the shelf', () => {
  it('are named for lines that were weighed, and only while they stand there', () => {
    const [bottle] = bottlesOf({ brief }, round([mix('m1')]), []);
    const shelf = { materials: [], lots: [{ lot: 'b1' }, { lot: 'b2' }] } as never;
    expect(lotsOf(bottle!, { peel: 'b1', noot: 'b9', gin: 'b2' }, shelf)).toEqual({ peel: 'b1' });
    expect(lotsOf(bottle!, { peel: 'b9', gin: 'b2' }, null)).toEqual({ peel: 'b9' });
  });
});

describe('a balance on a cable', () => {
  it('is understood by its numbers with units, whatever stands around them', () => {
    expect(
      ['+    1.53 g', 'N  + 0,25 g  ', '-0.02g', 'ST,GS,+ 0012.30  g', '250 mg', '1.2 kg'].map(gramsIn),
    ).toEqual([1.53, 0.25, -0.02, 12.3, 0.25, 1200]);
    expect(['', 'ERR 4', '12.30', 'overload', '1.2 gallons'].map(gramsIn)).toEqual(Array(5).fill(null));
  });

  it('is heard once it has settled, and again only when it has moved', () => {
    const heard: number[] = [];
    const hear = settledReadings((grams) => heard.push(grams));
    for (const chunk of ['1.49 g\r\n1.5', '3 g\r\n1.53 g\r\n1.', '53 g\r\n1.53 g\r\n', 'ERR\r\n'])
      hear(chunk);
    expect(heard).toEqual([1.53]);
    hear('2.00 g\n2.01 g\n2.01 g\n2.01 g\n');
    expect(heard).toEqual([1.53, 2.01]);
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

  it('says how long is missing and that one may go on, and nothing once all have rested', () => {
    expect(restMissing(resting, 24)).toBe(
      'm2 has not stood for 24 h yet: 3 h are missing. m3 is not weighed yet. ' +
        'You can go on all the same: how old each bottle was stays on record, and the reading tells.',
    );
    const weighed = resting.filter(({ hours }) => hours !== null);
    expect(restMissing(weighed.slice(0, 1), 24)).toBeNull();
    const young = weighed.map((one) => ({ ...one, left: 10 }));
    expect(restMissing(young, 36)).toMatch(/^No bottle has stood for 36 h yet: 10 h at the most are missing/);
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

  it('goes on with what no sitting pours yet; a test between two drinks scores none', () => {
    const five = round(['m1', 'm2', 'm3', 'm4', 'm5'].map((name) => mix(name)));
    const poured = (test: string | null, ...mixes: string[]) => ({ mixes, test }) as never;
    const begun = { ...five, sittings: [poured(null, 'm1', 'm4'), poured('triangle', 'm2', 'm3')] };
    expect(untasted(begun)).toEqual(['m2', 'm3', 'm5']);
    expect(likelySitting(trial, begun).mixes).toEqual(['m2', 'm3', 'm5']);
  });

  it('is not drawn with a taster named twice, without tasters or without mixes', () => {
    const draft = likelySitting(trial, round([mix('m1')]));
    expect(sittingFault({ ...draft, assessors: 'Ada, Bo; Ada' })).toContain('twice');
    expect(sittingFault({ ...draft, assessors: ' ,' })).not.toBeNull();
    expect(sittingFault({ ...draft, mixes: [] })).not.toBeNull();
    expect(sittingFault({ ...draft, label: ' ' })).not.toBeNull();
  });
});
