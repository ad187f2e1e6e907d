import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { billOf, readMass } from '../../../web/workbench/card/bill.ts';

const line = (material: string, grams: number, pricePerGram?: number) => ({
  ...{ material, grams, strength: 100 },
  ...(pricePerGram === undefined ? {} : { pricePerGram }),
});
const card = { formula: { lines: [line('peel', 1.5, 0.4), line('ethanol-96', 18.5, 0.02)] } } as never;
const shelf = (grams: number) =>
  ({
    materials: [{ material: 'peel', name: 'Peel oil', synonyms: [], pricePerGram: null }],
    lots: [
      { lot: 'b1', material: 'peel', strength: 100, grams },
      { lot: 'b2', material: 'peel', strength: 10, grams: 1000 },
    ],
  }) as never;

describe('what to buy', () => {
  it('is what the amount takes with its loss, less what stands on the shelf at that strength', () => {
    // By hand: 950 g with 5 % lost are 1000 g made, fifty batches of 20 g.
    const bill = billOf(card, 950, 0.05, shelf(30));
    expect(bill.grams).toBeCloseTo(1000, 9);
    expect(bill.lines.map(({ grams, onShelf, buy }) => [grams, onShelf, buy])).toEqual([
      [expect.closeTo(75, 9), 30, expect.closeTo(45, 9)],
      [expect.closeTo(925, 9), 0, expect.closeTo(925, 9)],
    ]);
    expect(bill.cost).toBeCloseTo(45 * 0.4 + 925 * 0.02, 9);
  });

  it('has no sum where a price is missing, unless nothing of it is bought', () => {
    const unpriced = { formula: { lines: [line('peel', 1), line('ethanol-96', 9, 0.02)] } } as never;
    expect(billOf(unpriced, 100, 0, shelf(5)).cost).toBeNull();
    expect(billOf(unpriced, 100, 0, shelf(500)).cost).toBeCloseTo(90 * 0.02, 9);
  });

  it('keeps the ratios at every size', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 5, max: 200_000, noNaN: true }),
        fc.double({ min: 0, max: 0.5, noNaN: true }),
        (want, loss) => {
          const [peel, spirit] = billOf(card, want, loss, shelf(0)).lines;
          expect(peel!.grams / spirit!.grams).toBeCloseTo(1.5 / 18.5, 12);
          expect((peel!.grams + spirit!.grams) * (1 - loss)).toBeCloseTo(want, 6);
        },
      ),
      { seed: 3, numRuns: 50 },
    );
  });

  it('reads an amount with its unit', () => {
    expect(['250 g', '5kg', '1,5 kg', '500 mg'].map(readMass)).toEqual([250, 5000, 1500, 0.5]);
    expect(['5', '0 g', '-1 kg', '5 lb', '', '1..2 kg'].map(readMass)).toEqual(Array(6).fill(null));
  });
});
