import { describe, expect, it } from 'vitest';
import {
  drawLadder,
  isStranger,
  jugMillilitres,
  type LadderDraft,
  readLadder,
  rungsOf,
  stockGrams,
  tastersOf,
  withNamed,
} from '../../../web/workbench/ladder/ladder.ts';

const draft: LadderDraft = {
  component: 'peel',
  weakest: '0,5',
  factor: '2',
  rungs: '4',
  tasters: 'P1, P2,, P1 ,P3',
  stock: '0.1',
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

describe('the cups', () => {
  const tasters = Array.from({ length: 30 }, (_, k) => `P${k + 1}`);
  const ladder = drawLadder('peel', [0.5, 1, 2, 4, 8, 16], tasters, 7);

  it('have three codes a rung, none twice for a taster, one of them odd; the same seed draws the same', () => {
    for (const { threes } of ladder.trays) {
      const codes = threes.flatMap((three) => three.codes);
      expect(new Set(codes).size).toBe(18);
      expect(codes.every((code) => /^[1-9]\d\d$/.test(code))).toBe(true);
      expect(threes.every(({ codes: own, odd }) => own.includes(odd))).toBe(true);
    }
    expect(drawLadder('peel', [0.5, 1, 2, 4, 8, 16], tasters, 7)).toEqual(ladder);
    expect(drawLadder('peel', [0.5, 1, 2, 4, 8, 16], tasters, 8)).not.toEqual(ladder);
  });

  it('hold the odd one in every place about as often', () => {
    const places = [0, 0, 0];
    for (const { threes } of ladder.trays)
      for (const { codes, odd } of threes) places[codes.indexOf(odd)]! += 1;
    // 180 threes with this seed: 60 each, give or take three standard deviations of 6.3.
    for (const often of places) expect(Math.abs(often - 60)).toBeLessThan(19);
  });
});

describe('what tasters name', () => {
  const ladder = drawLadder('peel', [1, 2, 4, 8], ['P1', 'P2'], 3);
  /** Names the odd cup where it is found, else another of the three. */
  const answered = (found: Record<string, boolean[]>) =>
    Object.entries(found).reduce((all, [taster, list]) => {
      const { threes } = ladder.trays.find((tray) => tray.taster === taster)!;
      return list.reduce((one, right, k) => {
        const { codes, odd } = threes[k]!;
        return withNamed(one, taster, k, right ? odd : codes.find((code) => code !== odd)!);
      }, all);
    }, ladder);

  it('becomes the threshold of the best-estimate method, as the command finds it by hand', () => {
    const { found, missing } = readLadder(
      answered({ P1: [false, true, true, true], P2: [true, false, false, true] }),
    );
    // P1 missed 1, found 2: √2; P2 missed 4, found 8: √32; the group √8.
    expect(found!.individual.map(({ threshold }) => threshold)).toEqual([
      expect.closeTo(Math.SQRT2, 12),
      expect.closeTo(Math.sqrt(32), 12),
    ]);
    expect(found!.threshold).toBeCloseTo(Math.sqrt(8), 12);
    expect(missing).toEqual([]);
  });

  it('counts only who has answered every rung with one of the three', () => {
    const begun = answered({ P1: [false, true, true, true], P2: [true, true] });
    expect(readLadder(begun)).toMatchObject({ missing: ['P2'], found: { individual: [{ assessor: 'P1' }] } });
    const wrong = withNamed(begun, 'P1', 3, '000');
    expect(isStranger(wrong, 'P1', 3)).toBe(true);
    expect([isStranger(begun, 'P1', 3), isStranger(begun, 'P2', 3)]).toEqual([false, false]);
    expect(readLadder(wrong)).toEqual({ found: null, missing: ['P1', 'P2'] });
    expect(ladder.named).toEqual({});
  });
});
