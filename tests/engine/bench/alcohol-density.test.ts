import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  alcoholDensity,
  ETHANOL_DENSITY,
  massFractionOf,
  percentByVolume,
} from '../../../engine/bench/alcohol-density.ts';
import { EngineError } from '../../../engine/errors.ts';
import table from '../../reference/bench/alcohol-density.json' with { type: 'json' };
import { expectClose } from './closeness.ts';

describe('density of ethanol and water, OIML R 22', () => {
  // The points are rounded to 0.001 kg/m³ and 0.0001 % by mass.
  it.each(table.reference_points_computed)('holds the table at $abv_percent_20C % vol', (point) => {
    const fraction = massFractionOf(point.abv_percent_20C);
    expectClose(100 * fraction, point.mass_percent, 6e-5);
    expectClose(1000 * alcoholDensity(fraction), point.rho_20C, 6e-4);
    expectClose(1000 * alcoholDensity(fraction, 15), point.rho_15C, 6e-4);
    expectClose(1000 * alcoholDensity(fraction, 25), point.rho_25C, 6e-4);
    expectClose(10 * point.abv_percent_20C * ETHANOL_DENSITY, point.g_ethanol_per_L_20C, 6e-4);
  });

  it('holds the published values for pure ethanol and water', () => {
    expectClose(1000 * ETHANOL_DENSITY, 789.24, 0.005);
    expectClose(1000 * alcoholDensity(1, 40), 771.93, 0.005);
    expectClose(1000 * alcoholDensity(0), 998.20123, 1e-9);
  });

  // USP 29 Alcoholometric Table (after NBS Bulletin vol. 9): volumes at 60 °F, two decimals.
  it.each([
    [10, 12.39],
    [20, 24.47],
    [30, 36.18],
  ])('%d %% by weight is %d %% by volume at 15.56 °C', (weight, volume) => {
    expectClose(percentByVolume(weight / 100, 15.56), volume, 0.006);
  });
  it.each([
    [10, 8.05],
    [20, 16.27],
    [30, 24.67],
  ])('%d %% by volume is %d %% by weight at 15.56 °C', (volume, weight) => {
    expectClose(100 * massFractionOf(volume, 15.56), weight, 0.006);
  });

  it('does not repeat the two misprints that circulate', () => {
    // With C1,1 misprinted the density at 50 % by mass and 40 °C differs by 1e-5 kg/m³: the value here was summed
    // term by term from the printed table.
    const { A, B, C } = table;
    const [p, warmth] = [0.5, 20];
    const sum =
      A.reduce((total, a, k) => total + a * p ** k, 0) +
      B.reduce((total, b, k) => total + b * warmth ** (k + 1), 0) +
      C.flatMap((row, i) => row.map((c, k) => c * p ** (k + 1) * warmth ** (i + 1))).reduce(
        (a, b) => a + b,
        0,
      );
    expectClose(1000 * alcoholDensity(0.5, 40), sum, 1e-8);
  });

  it('inverts itself and rises with the strength', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (fraction) => {
        expectClose(massFractionOf(Math.min(100, percentByVolume(fraction))), fraction, 1e-12); // terms of 7e5 cancel: 1e-13 is their rounding
      }),
      { seed: 1, numRuns: 200 },
    );
    const strengths = Array.from({ length: 1001 }, (_, i) => percentByVolume(i / 1000));
    expect(strengths.every((strength, i) => i === 0 || strength > strengths[i - 1]!)).toBe(true);
    expect([massFractionOf(0), massFractionOf(100)]).toEqual([0, 1]);
  });

  it.each([
    [-0.01, 20],
    [1.01, 20],
    [Number.NaN, 20],
    [0.5, 41],
    [0.5, -21],
  ])('refuses a fraction of %d at %d °C', (fraction, celsius) => {
    expect(() => alcoholDensity(fraction, celsius)).toThrow(EngineError);
  });
  it('refuses more than 100 % by volume', () => {
    expect(() => massFractionOf(100.1)).toThrow(/0 to 100/);
  });
});
