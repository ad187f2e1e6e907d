import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { correctPour } from '../../../engine/bench/correct-pour.ts';
import { type DoseSheetInput, doseSheet, ethanolPerSitting } from '../../../engine/bench/dose-sheet.ts';
import { calibrateDrops } from '../../../engine/bench/drops.ts';
import { EngineError } from '../../../engine/errors.ts';
import { expectClose } from './closeness.ts';

const tray: DoseSheetInput = {
  dosePerLitre: 0.25,
  cups: 6,
  cupMillilitres: 40,
  concentrate: { density: 0.814, percentVol: 88 },
  balance: { readability: 0.01 },
};

describe('dosing a jug', () => {
  it('takes a tenfold dilution for six cups of 40 mL at 0.25 mL/L, and counts its ethanol', () => {
    const found = doseSheet(tray);
    // By hand: 264 mL of drink, 0.066 mL or 0.0537 g of concentrate, known to 7.6 %; diluted 0.54 g, known to 0.8 %.
    expectClose(found.drinkMillilitres, 264, 1e-9);
    expectClose(found.concentrateMillilitres, 0.066, 1e-12);
    expectClose(found.neatError, 0.076, 5e-4);
    expect(found).toMatchObject({ fold: 10, weighGrams: 0.54 });
    expectClose(found.relativeError, 0.00756, 1e-5);
    expectClose(found.givesPerLitre, (0.25 * 0.54) / 0.53724, 1e-9);
    // 0.0663 mL at 88 % and 0.486 g of 96 % spirit (0.80742 g/mL) in 264 mL.
    expectClose(found.percentVol, (0.0663391 * 88 + (0.486 / 0.80742) * 96) / 264, 1e-5);
    expectClose(ethanolPerSitting(Array(4).fill(found.ethanolGramsPerCup)), 0.304, 0.002);
  });

  it('weighs straight where the balance can', () => {
    const found = doseSheet({ ...tray, balance: { readability: 0.0001 } });
    expect(found.fold).toBe(1);
    expectClose(found.percentVol, 0.022, 1e-4);
  });

  it('asks for a larger jug where tenfold is not enough, never for more ethanol', () => {
    const coarse = doseSheet({ ...tray, balance: { readability: 0.01, repeatability: 0.02 } });
    expect(coarse).toMatchObject({ fold: 10, isKnown: false });
    // 2 g of the dilution are known to 1 %: 0.2 g of concentrate, 0.2457 mL, in 983 mL of drink.
    expectClose(coarse.knownFromMillilitres, 1000 * (0.2 / 0.814 / 0.25), 1e-6);
    const cups = coarse.knownFromMillilitres / (40 * 1.1);
    expect(doseSheet({ ...tray, cups, balance: { readability: 0.01, repeatability: 0.02 } }).isKnown).toBe(
      true,
    );
  });

  it('goes through the dilution for company, where asked', () => {
    expect(doseSheet({ ...tray, balance: { readability: 0.0001 }, diluteAlways: true }).fold).toBe(10);
  });

  it.each([
    { dosePerLitre: 0 },
    { cups: -1 },
    { over: -0.1 },
    { balance: { readability: 0 } },
    { balance: { readability: 1e9 } },
  ])('refuses %o', (more) => {
    expect(() => doseSheet({ ...tray, ...more })).toThrow(EngineError);
  });
});

describe('drops', () => {
  it('divides what twenty weigh, and says how well that is known', () => {
    const found = calibrateDrops([{ drops: 20, grams: 0.44 }], { readability: 0.01 }, 0.82);
    expectClose(found.gramsPerDrop, 0.022, 1e-15);
    expectClose(found.relativeError, 0.01 / Math.sqrt(6) / 0.44, 1e-12);
    expectClose(found.millilitresPerDrop, 0.022 / 0.82, 1e-15);
    expect(found.spread).toBeNull();
  });

  it('takes the spread between weighings where it is the larger', () => {
    const found = calibrateDrops(
      [18, 20, 22].map((grams) => ({ drops: 1000, grams })),
      { readability: 0.001 },
    );
    expectClose(found.spread, 0.002, 1e-12);
    expectClose(found.relativeError, 0.002 / Math.sqrt(3) / 0.02, 1e-9);
  });

  it.each([[[]], [[{ drops: 0, grams: 1 }]], [[{ drops: 20, grams: 0 }]], [[{ drops: 1.5, grams: 1 }]]])(
    'refuses %o',
    (weighings) => {
      expect(() => calibrateDrops(weighings, { readability: 0.01 })).toThrow(EngineError);
    },
  );
});

describe('a wrong pour', () => {
  it('lets the mix grow until the ratio is right, by hand', () => {
    expect(correctPour([1, 2, 1], [1.1, 2, 0], 0.01)).toEqual({
      grams: [1.1, 2.2, 1.1],
      add: [0, 0.2, 1.1],
      larger: 1.1,
    });
    expect(correctPour([1, 2], [0.9, 2], 0.01)).toEqual({ grams: [1, 2], add: [0.1, 0], larger: 1 });
  });

  it('restores the ratio to within the steps, taking nothing out, with the least that can be added', () => {
    const mass = fc.integer({ min: 1, max: 500 }).map((steps) => steps / 100);
    const pair = fc.tuple(mass, fc.double({ min: 0, max: 1.3, noNaN: true }));
    fc.assert(
      fc.property(fc.array(pair, { minLength: 2, maxLength: 6 }), (pairs) => {
        const planned = pairs.map(([grams]) => grams);
        const poured = pairs.map(([grams, share]) => Math.round(grams * share * 100) / 100);
        const { grams, add, larger } = correctPour(planned, poured, 0.01);
        grams.forEach((found, i) => {
          expectClose(found, planned[i]! * larger, 0.0051);
          expectClose(poured[i]! + add[i]!, found, 1e-9);
        });
        expect(add.every((more) => more >= 0)).toBe(true);
        expect(larger === 1 || add.some((more, i) => more === 0 && poured[i]! > planned[i]!)).toBe(true);
      }),
      { seed: 1, numRuns: 200 },
    );
  });

  it('refuses what no topping up restores', () => {
    expect(() => correctPour([1, 0], [1, 0.2], 0.01)).toThrow(EngineError);
    expect(() => correctPour([1], [1, 2], 0.01)).toThrow(EngineError);
    expect(() => correctPour([1], [-1], 0.01)).toThrow(EngineError);
  });
});
