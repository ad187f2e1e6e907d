import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ETHANOL_DENSITY } from '../../../engine/bench/alcohol-density.ts';
import { dilute } from '../../../engine/bench/dilute.ts';
import { EngineError } from '../../../engine/errors.ts';
import examples from '../../reference/bench/weighing-dilution.json' with { type: 'json' };
import { expectClose } from './closeness.ts';

describe('diluting a spirit', () => {
  // The example gives the volume that 100 mL of spirit become only through the water; the total follows from it.
  it('takes 147.053 mL of water for 100 mL of 96 % spirit to 40 %', () => {
    const one = dilute({ from: 96, to: 40, make: 1 });
    expectClose(
      (100 * one.waterMillilitres) / one.spiritMillilitres,
      examples.water_for_100_mL_96_to_40.water_mL,
      6e-4,
    );
  });

  it.each([
    [96, 0],
    [95, 1],
  ] as const)('holds the worked mixture of %d %% spirit and water', (from, at) => {
    const example = examples.mixing[at]!;
    const spirit = Number(/^\d+/.exec(example.mix)![0]);
    const found = dilute({ from, to: example.abv, make: example.volume_mL });
    expectClose(found.spiritMillilitres, spirit, 2e-3);
    expectClose(found.waterMillilitres, example.sum_of_volumes_mL - spirit, 2e-3);
    expectClose(found.contractionMillilitres, example.contraction_mL, 2e-3);
    expectClose(found.spiritGrams + found.waterGrams, example.mass_g, 2e-3);
  });

  // Known from the alcohol tables: 50 mL of pure ethanol and 50 mL of water are 96.46 mL of 51.83 % by volume.
  it('contracts 50 mL of pure ethanol and 50 mL of water to 96.46 mL', () => {
    const found = dilute({ from: 100, to: 51.83, make: 96.46 });
    expectClose(found.spiritMillilitres, 50, 0.01);
    expectClose(found.contractionMillilitres, 3.54, 0.01);
  });

  it('keeps the mass of the ethanol', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 100, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0.01, max: 1e5, noNaN: true }),
        (from, share, make) => {
          const to = from * share;
          const found = dilute({ from, to, make });
          const before = found.spiritMillilitres * from * ETHANOL_DENSITY;
          expectClose(before, make * to * ETHANOL_DENSITY, 1e-9, 1e-10);
        },
      ),
      { seed: 1, numRuns: 200 },
    );
  });

  it('takes no water where nothing is to be diluted, and no spirit for water', () => {
    expect(dilute({ from: 40, to: 40, make: 100 })).toMatchObject({
      waterGrams: 0,
      contractionMillilitres: 0,
    });
    const water = dilute({ from: 40, to: 0, make: 100 });
    expect(water.spiritGrams).toBe(0);
    expectClose(water.waterMillilitres, 100, 1e-9);
  });

  it.each([
    { from: 40, to: 50, make: 100 },
    { from: 101, to: 50, make: 100 },
    { from: 40, to: -1, make: 100 },
    { from: 40, to: 20, make: 0 },
    { from: Number.NaN, to: 20, make: 1 },
    { from: 40, to: 20, make: Number.POSITIVE_INFINITY },
  ])('refuses %o', (input) => {
    expect(() => dilute(input)).toThrow(EngineError);
  });
});
