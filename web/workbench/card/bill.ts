import type { Card, LotView, MaterialView } from '../../../trials/schema/api.ts';

/** One line of what a larger amount takes. */
export interface BillLine {
  material: string;
  grams: number;
  /** Left in bottles of this material at this strength, by their account. */
  onShelf: number;
  buy: number;
  /** Null where the price of a gram is not known. */
  cost: number | null;
}

export interface Bill {
  lines: BillLine[];
  grams: number;
  /** Of what is to be bought; null where a price is missing. */
  cost: number | null;
}

/**
 * What to weigh and what to buy for so many grams of concentrate: the card's own batch in the same ratios, so much
 * more as stays in vessels and filters, less what stands on the shelf.
 *
 * @param loss share that stays behind, 0 to below 1
 */
export function billOf(
  { formula }: Card,
  want: number,
  loss: number,
  shelf: { lots: readonly LotView[]; materials: readonly MaterialView[] },
): Bill {
  const batch = formula.lines.reduce((sum, { grams }) => sum + grams, 0);
  const factor = want / (1 - loss) / batch;
  const lines = formula.lines.map(({ material, grams: one, strength, pricePerGram }) => {
    const grams = one * factor;
    const known = shelf.materials.find(
      (other) => other.material === material || other.name === material || other.synonyms.includes(material),
    );
    const bottles = shelf.lots.filter(
      (lot) => lot.material === known?.material && Math.abs(lot.strength - strength) <= 0.02 * strength,
    );
    const onShelf = bottles.reduce((sum, lot) => sum + Math.max(0, lot.grams), 0);
    const buy = Math.max(0, grams - onShelf);
    const price = pricePerGram ?? known?.pricePerGram ?? null;
    return { material, grams, onShelf, buy, cost: price === null ? (buy === 0 ? 0 : null) : buy * price };
  });
  const costs = lines.map(({ cost }) => cost);
  return {
    lines,
    grams: want / (1 - loss),
    cost: costs.includes(null) ? null : costs.reduce<number>((sum, cost) => sum + (cost ?? 0), 0),
  };
}

const UNITS: Readonly<Record<string, number>> = { mg: 0.001, g: 1, kg: 1000 };

/** `5 kg` or `250 g` in grams; null where it is no mass above 0. */
export function readMass(text: string): number | null {
  const [, digits = '', unit = ''] = /^\s*([\d.,]+)\s*(mg|g|kg)\s*$/i.exec(text) ?? [];
  const grams = Number(digits.replace(',', '.')) * (UNITS[unit.toLowerCase()] ?? Number.NaN);
  return grams > 0 && Number.isFinite(grams) ? grams : null;
}
