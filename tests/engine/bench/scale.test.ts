import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { scaleFormula } from '../../../engine/bench/scale.ts';
import { EngineError } from '../../../engine/errors.ts';
import { line, material, shelfOf } from './bench-materials.ts';
import { expectClose } from './closeness.ts';

const materials = shelfOf(material('oil', { density: 0.85 }), material('powder'));
const lines = [line('oil', 1, { pricePerGram: 0.5 }), line('ethanol-96', 9, { pricePerGram: 0.03 })];

describe('another size', () => {
  it('keeps the ratio and adds the cost, by hand', () => {
    const found = scaleFormula({ lines, materials, to: { grams: 5000 } });
    expect(found.lines.map(({ grams, cost }) => [grams, cost])).toEqual([
      [500, 250],
      [4500, 135],
    ]);
    expectClose(found.lines[0]!.millilitres, 500 / 0.85, 1e-9);
    expect(found.cost).toBe(385);
  });

  it('meets a volume', () => {
    expectClose(scaleFormula({ lines, materials, to: { millilitres: 2000 } }).millilitres, 2000, 1e-9);
  });

  it('returns the same formula, up and down', () => {
    const mass = fc.double({ min: 1e-3, max: 1e3, noNaN: true });
    fc.assert(
      fc.property(mass, mass, mass, (oil, spirit, to) => {
        const given = [line('oil', oil), line('ethanol-96', spirit)];
        const up = scaleFormula({ lines: given, materials, to: { grams: to } });
        const again = up.lines.map((one) => line(one.material, one.grams));
        const back = scaleFormula({ lines: again, materials, to: { grams: oil + spirit } });
        expectClose(back.lines[0]!.grams, oil, 0, 1e-13);
        expectClose(back.lines[1]!.grams, spirit, 0, 1e-13);
        const litres = scaleFormula({ lines: given, materials, to: { millilitres: up.millilitres! } });
        expectClose(litres.grams, to, 0, 1e-10);
      }),
      { seed: 1, numRuns: 200 },
    );
  });

  it('makes more where some is lost, and rounds to the balance', () => {
    expectClose(scaleFormula({ lines, materials, to: { grams: 90 }, loss: 0.1 }).grams, 100, 1e-12);
    const rounded = scaleFormula({ lines, materials, to: { grams: 12.34 }, readability: 0.1 });
    expect(rounded.lines.map(({ grams }) => grams)).toEqual([1.2, 11.1]);
    const gone = scaleFormula({ lines, materials, to: { grams: 0.4 }, readability: 0.1 });
    expect(gone.warnings).toEqual([expect.stringContaining('oil: rounded to nothing')]);
  });

  it('says what has no price', () => {
    const found = scaleFormula({ lines: [...lines, line('water', 1)], materials, to: { grams: 1 } });
    expect(found.cost).toBeNull();
    expect(found.missing).toEqual([{ material: 'water', because: expect.stringContaining('price') }]);
  });

  it('refuses a volume where a density is missing, naming it, and takes a mass', () => {
    const given = [line('powder', 1), line('ethanol-96', 9)];
    expect(() => scaleFormula({ lines: given, materials, to: { millilitres: 10 } })).toThrow(/powder/);
    expect(scaleFormula({ lines: given, materials, to: { grams: 10 } })).toMatchObject({
      grams: 10,
      millilitres: null,
    });
  });

  it.each([
    { to: { grams: 0 } },
    { to: { millilitres: Number.NaN } },
    { to: { grams: 1 }, loss: 1 },
    { to: { grams: 1 }, readability: 0 },
  ])('refuses %o', (more) => {
    expect(() => scaleFormula({ lines, materials, ...more })).toThrow(EngineError);
  });
});
