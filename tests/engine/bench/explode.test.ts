import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { massFractionOf } from '../../../engine/bench/alcohol-density.ts';
import { explodeLine, type Portion } from '../../../engine/bench/explode.ts';
import { EngineError } from '../../../engine/errors.ts';
import { line, material, shelfOf } from './bench-materials.ts';
import { expectClose } from './closeness.ts';

function gramsOf(portions: readonly Portion[], id: string): number {
  return portions.filter(({ substance }) => substance.id === id).reduce((sum, { grams }) => sum + grams, 0);
}

describe('taking a line apart to pure substances', () => {
  it('goes through a stock of a stock, solvent and all', () => {
    const shelf = shelfOf(
      material('rose'),
      material('rose-10', { makeup: { kind: 'solution', of: 'rose', percent: 10, solvent: 'ethanol-96' } }),
      material('rose-1', { makeup: { kind: 'solution', of: 'rose-10', percent: 10, solvent: 'ethanol-96' } }),
    );
    const portions = explodeLine(line('rose-1', 50), shelf);
    expectClose(gramsOf(portions, 'rose'), 0.5, 1e-12);
    expectClose(gramsOf(portions, 'ethanol'), 49.5 * massFractionOf(96), 1e-9);
    expectClose(gramsOf(portions, 'water'), 49.5 * (1 - massFractionOf(96)), 1e-9);
  });

  it('keeps the mass, whatever is dissolved in what', () => {
    // Level n dissolves level n - 1, or takes it as the solvent of something pure.
    const level = fc.record({
      percent: fc.double({ min: 1e-4, max: 100, noNaN: true }),
      below: fc.boolean(),
    });
    fc.assert(
      fc.property(
        fc.array(level, { maxLength: 8 }),
        fc.double({ min: 1e-3, max: 1e5, noNaN: true }),
        (levels, grams) => {
          const made = levels.map(({ percent, below }, n) => {
            const under = n === 0 ? 'ethanol-96' : `level-${n - 1}`;
            const [of, solvent] = below ? ([under, 'oil'] as const) : (['oil', under] as const);
            return material(`level-${n}`, { makeup: { kind: 'solution', of, percent, solvent } });
          });
          const top = levels.length === 0 ? 'ethanol-96' : `level-${levels.length - 1}`;
          const portions = explodeLine(line(top, grams), shelfOf(material('oil'), ...made));
          expectClose(
            portions.reduce((sum, portion) => sum + portion.grams, 0),
            grams,
            0,
            1e-12,
          );
          expect(portions.every((portion) => portion.grams >= 0)).toBe(true);
        },
      ),
      { seed: 1, numRuns: 300 },
    );
  });

  it('knows what came with an extract from what was added as such', () => {
    const shelf = shelfOf(
      material('quassin'),
      material('extract', {
        makeup: { kind: 'solution', of: 'quassin', percent: 2, solvent: 'ethanol-96', natural: true },
      }),
      material('stock', { makeup: { kind: 'solution', of: 'extract', percent: 10, solvent: 'ethanol-96' } }),
    );
    const [brought] = explodeLine(line('stock', 10), shelf);
    expect(brought).toMatchObject({ substance: { id: 'quassin' }, asSuch: false });
    expectClose(brought!.grams, 0.02, 1e-15);
    expect(explodeLine(line('quassin', 1), shelf)).toMatchObject([{ asSuch: true }]);
  });

  it('refuses a stock that holds itself, and says the way round', () => {
    const shelf = shelfOf(
      material('a', { makeup: { kind: 'solution', of: 'b', percent: 10, solvent: 'water' } }),
      material('b', { makeup: { kind: 'solution', of: 'water', percent: 10, solvent: 'a' } }),
    );
    expect(() => explodeLine(line('a', 1), shelf)).toThrow(/a in b in a/);
  });

  it.each([
    ['nowhere', 1, 100],
    ['bad', 1, 0],
    ['bad', 1, 101],
    ['water', -1, 100],
    ['water', Number.NaN, 100],
  ])('refuses %s, %d g, %d %%', (id, grams, percent) => {
    const bad = material('bad', { makeup: { kind: 'solution', of: 'water', percent, solvent: 'water' } });
    expect(() => explodeLine(line(id, grams), shelfOf(bad))).toThrow(EngineError);
  });
});
