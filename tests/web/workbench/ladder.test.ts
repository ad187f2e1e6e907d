import { describe, expect, it } from 'vitest';
import { drawLadderTrays } from '../../../trials/rounds/draw-ladder.ts';
import type { LadderView } from '../../../trials/schema/api.ts';
import { LadderKept } from '../../../trials/schema/ladder-shapes.ts';
import { asKept } from '../../../web/workbench/ladder/kept-ladder.ts';
import {
  answeredRungs,
  jugMillilitres,
  type LadderDraft,
  readLadder,
  rungsOf,
  stockGrams,
  tastersOf,
} from '../../../web/workbench/ladder/ladder.ts';
import { withAnswers } from '../../../web/workbench/ladder/use-answers.ts';

const draft: LadderDraft = {
  component: 'peel',
  weakest: '0,5',
  factor: '2',
  rungs: '4',
  tasters: 'P1, P2,, P1 ,P3',
};

describe('setting a ladder up', () => {
  it('makes rungs by a factor, and reads names once each', () => {
    expect(rungsOf(draft)).toEqual([0.5, 1, 2, 4]);
    expect(rungsOf({ ...draft, factor: '1.5', rungs: '3' })).toEqual([0.5, 0.75, 1.125]);
    expect(tastersOf(draft)).toEqual(['P1', 'P2', 'P3']);
  });

  it.each([
    [{ weakest: '0' }, /above 0/],
    [{ weakest: 'little' }, /above 0/],
    [{ factor: '1' }, /above 1/],
    [{ factor: '11' }, /up to 10/],
    [{ rungs: '2' }, /3 to 10/],
    [{ rungs: '4.5' }, /3 to 10/],
    [{ rungs: '' }, /3 to 10/],
  ])('refuses %j in words', (change, says) => {
    expect((rungsOf({ ...draft, ...change }) as { fault: string }).fault).toMatch(says);
  });

  it('says what a jug takes, by hand: 2 mg a litre in 198 mL from a 0.1 % stock are 0.396 g', () => {
    expect(jugMillilitres(6, 30)).toBeCloseTo(198, 12);
    expect(stockGrams(2, 198, 0.1)).toBeCloseTo(0.396, 12);
  });
});

describe('what tasters name', () => {
  const cups = drawLadderTrays(4, ['P1', 'P2'], 3);
  const drawn: LadderView = {
    ladder: 1,
    component: 'peel',
    concentrations: [1, 2, 4, 8],
    drawn: '',
    away: null,
    trays: cups.map(({ assessor, threes }) => ({ taster: assessor, threes, named: threes.map(() => null) })),
  };
  /** Names the odd cup where it is found, else another of the three. */
  const said = (taster: string, found: boolean[]) =>
    found.map((right, k) => {
      const { codes, odd } = cups.find(({ assessor }) => assessor === taster)!.threes[k]!;
      return { taster, rung: k + 1, code: right ? odd : codes.find((code) => code !== odd)! };
    });

  it('becomes the threshold of the best-estimate method, as the command finds it by hand', () => {
    const answers = [...said('P1', [false, true, true, true]), ...said('P2', [true, false, false, true])];
    const { found, missing } = readLadder(withAnswers(drawn, answers));
    // P1 missed 1, found 2: √2; P2 missed 4, found 8: √32; the group √8.
    expect(found!.individual.map(({ threshold }) => threshold)).toEqual([
      expect.closeTo(Math.SQRT2, 12),
      expect.closeTo(Math.sqrt(32), 12),
    ]);
    expect(found!.threshold).toBeCloseTo(Math.sqrt(8), 12);
    expect(missing).toEqual([]);
  });

  it('counts only who has answered every rung; the last answer counts, and one taken back does not', () => {
    const answers = [...said('P1', [false, true, true, true]), ...said('P2', [true, true])];
    const begun = withAnswers(drawn, answers);
    expect(readLadder(begun)).toMatchObject({ missing: ['P2'], found: { individual: [{ assessor: 'P1' }] } });
    expect(begun.trays.map(answeredRungs)).toEqual([4, 2]);
    const other = {
      taster: 'P1',
      rung: 4,
      code: cups[0]!.threes[3]!.codes.find((c) => c !== cups[0]!.threes[3]!.odd)!,
    };
    expect(withAnswers(drawn, [...answers, other]).trays[0]!.named[3]).toBe(other.code);
    const back = withAnswers(begun, [{ taster: 'P1', rung: 4, code: null }]);
    expect(readLadder(back)).toEqual({ found: null, missing: ['P1', 'P2'] });
    expect(drawn.trays.map(answeredRungs)).toEqual([0, 0]);
  });
});

describe('a ladder that a browser kept from before', () => {
  const [tray] = drawLadderTrays(3, ['__proto__'], 5);
  const old = (named: Record<string, string[]>, taster = 'P1') => ({
    ...{ component: 'peel', concentrations: [1, 2, 4], named },
    trays: [{ taster, threes: tray!.threes }],
  });
  const odd = tray!.threes.map((three) => three.odd);

  it('is handed over as the workbench takes it, with what fits no cup told', () => {
    const { body, left } = asKept(old({ P1: [odd[0]!, '', '12'] }));
    expect(LadderKept.parse(body)).toEqual(body);
    expect(body.trays[0]!.named).toEqual([odd[0], null, null]);
    expect(left).toEqual(['P1, rung 3: 12']);
  });

  it('may have nothing answered, and tasters of any name', () => {
    for (const name of ['P1', 'constructor', '__proto__'])
      expect(asKept(old({}, name))).toMatchObject({
        body: { trays: [{ taster: name, named: [null, null, null] }] },
        left: [],
      });
  });
});
