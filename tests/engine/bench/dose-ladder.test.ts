import { describe, expect, test } from 'vitest';
import { doseOf } from '../../../engine/bench/dose.ts';
import { doseLadder, syrupDose } from '../../../engine/bench/dose-ladder.ts';
import { EngineError } from '../../../engine/errors.ts';
import { line, shelfOf } from './bench-materials.ts';

describe('the dose ladder', () => {
  test('says the same dose at each size', () => {
    // By hand: 0.25 mL/L; 40 mL hold 0.01 mL, at 0.82 g/mL 0.0082 g.
    expect(doseLadder(0.25, 0.82, 40)).toEqual([
      { into: 'a cup of 40 mL', millilitres: 0.01, grams: expect.closeTo(0.0082, 12) },
      { into: 'a litre', millilitres: 0.25, grams: expect.closeTo(0.205, 12) },
      { into: 'ten litres', millilitres: 2.5, grams: expect.closeTo(2.05, 12) },
    ]);
    expect(doseLadder(0.25, null, 40)[0]!.grams).toBeNull();
  });

  test('through a syrup and back is the same: 1.5 mL in a litre, 30 mL in 180', () => {
    expect(syrupDose(0.25, 30, 180)).toBeCloseTo(1.5, 12);
    const dose = doseOf({
      ...{ lines: [line('ethanol', 1)], materials: shelfOf(), limits: [] },
      ...{ syrupDose: syrupDose(0.25, 30, 180), syrupPerDrink: 30, drink: 180 },
    });
    expect((1000 * dose.perDrink.millilitres) / 180).toBeCloseTo(0.25, 12);
  });

  test.each([
    [() => doseLadder(0, 1, 40), 'dosePerLitre'],
    [() => doseLadder(1, 0, 40), 'density'],
    [() => doseLadder(1, 1, Number.NaN), 'glassMillilitres'],
    [() => syrupDose(1, 200, 180), 'syrupPerDrink'],
    [() => syrupDose(500, 10, 180), 'dosePerLitre'],
  ])('refuses what cannot be poured', (act, argument) => {
    expect(act).toThrow(EngineError);
    expect(act).toThrow(new RegExp(argument));
  });
});
