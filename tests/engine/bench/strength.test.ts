import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { alcoholDensity, ETHANOL_DENSITY } from '../../../engine/bench/alcohol-density.ts';
import { strengthOf } from '../../../engine/bench/strength.ts';
import { EngineError } from '../../../engine/errors.ts';
import examples from '../../reference/bench/weighing-dilution.json' with { type: 'json' };
import { line, material, shelfOf } from './bench-materials.ts';
import { expectClose } from './closeness.ts';

describe('strength of a formula', () => {
  it('contracts 50 mL of pure ethanol and 50 mL of water to 96.46 mL at 51.83 %', () => {
    const found = strengthOf(
      [line('ethanol', 50 * ETHANOL_DENSITY), line('water', 50 * alcoholDensity(0))],
      shelfOf(),
    );
    expectClose(found.millilitres, 96.46, 0.005);
    expectClose(found.percentVol, 51.83, 0.005);
    expectClose(found.grams, 89.372, 5e-4);
  });

  it.each(examples.mixing)('holds the worked mixture: $mix', (example) => {
    const parts = [...example.mix.matchAll(/(\d+) mL (?:at (\d+) %|water)/g)].map(
      ([, millilitres, percent]) => ({
        millilitres: Number(millilitres),
        percentVol: Number(percent ?? 0),
      }),
    );
    expect(parts).toHaveLength(2);
    const shelf = shelfOf(
      ...parts.map(({ percentVol }) =>
        material(`s${percentVol}`, { makeup: { kind: 'spirit', percentVol } }),
      ),
    );
    const lines = parts.map(({ millilitres, percentVol }) => {
      const one = strengthOf([line(`s${percentVol}`, 1)], shelf);
      expectClose(one.percentVol, percentVol, 1e-9);
      return line(`s${percentVol}`, millilitres * one.density!);
    });
    const found = strengthOf(lines, shelf);
    expectClose(found.grams, example.mass_g, 6e-4);
    expectClose(found.millilitres, example.volume_mL, 6e-4);
    expectClose(found.percentVol, example.abv, 6e-4);
  });

  it('adds an oil at its density, by hand', () => {
    const shelf = shelfOf(material('oil', { density: 0.85 }));
    const found = strengthOf([line('oil', 8.5), line('ethanol-96', 80.742)], shelf);
    expectClose(found.millilitres, 110, 1e-3);
    expectClose(found.percentVol, 96 / 1.1, 1e-3);
    expect(found.substances.map(({ substance }) => substance)).toEqual(['ethanol', 'oil', 'water']);
    expectClose(
      found.substances.reduce((sum, { share }) => sum + share, 0),
      1,
      1e-14,
    );
  });

  it('has no volume where a density is missing, and says whose', () => {
    const found = strengthOf([line('powder', 1), line('ethanol-96', 9)], shelfOf(material('powder')));
    expect(found).toMatchObject({ millilitres: null, density: null, percentVol: null });
    expect(found.missing).toEqual([{ material: 'powder', because: expect.stringContaining('density') }]);
    expect(found.warnings[0]).toContain('powder');
  });

  it('takes the density that the line states, also for a dilution', () => {
    const shelf = shelfOf(
      material('powder'),
      material('tenth', { makeup: { kind: 'solution', of: 'powder', percent: 10, solvent: 'ethanol-96' } }),
    );
    expectClose(strengthOf([line('powder', 3, { density: 1.5 })], shelf).millilitres, 2, 1e-12);
    const dilution = strengthOf([line('tenth', 8.3, { density: 0.83 })], shelf);
    expectClose(dilution.millilitres, 10, 1e-12);
    // 7.47 g of spirit hold 9.2516 mL at 96 %.
    expectClose(dilution.percentVol, (96 * 7.47) / 0.80742 / 10, 1e-3);
    expect(strengthOf([line('tenth', 8.3, { density: 5 })], shelf)).toMatchObject({ millilitres: null });
  });

  it('tells no strength where a solvent is not named', () => {
    const shelf = shelfOf(
      material('oil', { density: 0.85 }),
      material('dilution', {
        makeup: { kind: 'solution', of: 'oil', percent: 10, solvent: 'unnamed-solvent' },
      }),
    );
    expect(strengthOf([line('dilution', 1, { density: 0.8 })], shelf)).toMatchObject({ percentVol: null });
  });

  it('changes with nothing but the ratio: order, size, one line or two', () => {
    const shelf = shelfOf(material('oil', { density: 0.85 }), material('sugar', { density: 1.59 }));
    const mass = fc.double({ min: 0.01, max: 100, noNaN: true });
    fc.assert(
      fc.property(
        mass,
        mass,
        mass,
        fc.double({ min: 1e-3, max: 1e4, noNaN: true }),
        (oil, sugar, spirit, times) => {
          const found = strengthOf(
            [line('oil', oil), line('sugar', sugar), line('ethanol-96', spirit)],
            shelf,
          );
          const other = strengthOf(
            [
              line('ethanol-96', (spirit * times) / 2),
              line('sugar', sugar * times),
              line('ethanol-96', (spirit * times) / 2),
              line('oil', oil * times),
            ],
            shelf,
          );
          expectClose(other.percentVol, found.percentVol!, 0, 1e-11);
          expectClose(other.density, found.density!, 0, 1e-11);
          expectClose(other.grams, found.grams * times, 0, 1e-12);
        },
      ),
      { seed: 1, numRuns: 200 },
    );
  });

  it('has no ethanol without ethanol, and refuses a formula of nothing', () => {
    expect(strengthOf([line('water', 1)], shelfOf()).percentVol).toBe(0);
    expect(() => strengthOf([line('water', 0)], shelfOf())).toThrow(EngineError);
  });
});
