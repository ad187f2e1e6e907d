import type { LotView, NewStock } from '../schema/shelf-shapes.ts';
import { type Context, timeOf } from './context.ts';
import { account, materialOf, moveOf, nextLot, noteAct } from './keep-lots.ts';
import { badInput } from './refusal.ts';
import { findLot, tidy } from './shelf-view.ts';
import { refuseShortage } from './take-from-lots.ts';

/**
 * A stock made of a bottle and a solvent: it takes its material from them, is as strong as what was really weighed,
 * as old as its source, and keeps no longer than it.
 *
 * @throws Refusal `bad-input` for a solvent that is the material itself, `conflict` for more than is on hand
 */
export function makeStock(context: Context, { label, from, grams, solvent, note }: NewStock) {
  return context.store.write(() => {
    const source = findLot(context, from);
    const diluent = solventOf(context, solvent);
    if (diluent.material === source.material || diluent.lot?.lot === from)
      throw badInput('solvent', diluent.material, 'a solvent other than what is dissolved in it');
    refuseShortage(source, grams);
    if (diluent.lot) refuseShortage(diluent.lot, solvent.grams);
    const at = timeOf(context);
    const lot = nextLot(context);
    const total = tidy(grams + solvent.grams);
    context.store.shelf.addLot({
      lot,
      material: source.material,
      made: at,
      entry: {
        label,
        supplier: '',
        strength: (source.strength * grams) / total,
        solvent: diluent.material,
        density: null,
        pricePerGram: priceOf(source, grams, diluent.price, solvent.grams),
        opened: null,
        bestBefore: earliest(source.bestBefore, diluent.lot?.bestBefore ?? null),
        note,
        parts: [
          { lot: from, material: source.material, grams },
          { lot: solvent.lot, material: diluent.material, grams: solvent.grams },
        ],
      },
    });
    const out = { at, kind: 'into stock', stock: lot } as const;
    context.store.shelf.addMove(moveOf({ ...out, lot: from, grams: -grams }));
    if (diluent.lot)
      context.store.shelf.addMove(moveOf({ ...out, lot: diluent.lot.lot, grams: -solvent.grams }));
    context.store.shelf.addMove(moveOf({ lot, at, grams: total, kind: 'made' }));
    noteAct(context, 'made a stock', `${lot}: ${grams} g of ${from} in ${solvent.grams} g`);
    return account(context, lot);
  });
}

interface Diluent {
  lot: LotView | null;
  material: string;
  price: number | null;
}

function solventOf(context: Context, { lot, material }: NewStock['solvent']): Diluent {
  if (lot !== null) {
    const found = findLot(context, lot);
    return { lot: found, material: found.material, price: found.pricePerGram };
  }
  if (material === null) throw badInput('solvent', 'nothing', 'a bottle of the shelf, or a material');
  const found = materialOf(context, 'solvent.material', material);
  return { lot: null, material: found.id, price: found.pricePerGram };
}

function priceOf(source: LotView, grams: number, solventPrice: number | null, solventGrams: number) {
  if (source.pricePerGram === null || solventPrice === null) return null;
  return (source.pricePerGram * grams + solventPrice * solventGrams) / (grams + solventGrams);
}

function earliest(...days: (string | null)[]): string | null {
  return days.filter((day) => day !== null).sort()[0] ?? null;
}
