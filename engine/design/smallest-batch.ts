import { STRENGTHS } from '../region/unweighable.ts';
import { type Batch, decimal, massUncertainty } from '../region/weighing-grid.ts';

export interface BatchQuestion {
  /** Shares of each component in each mix. */
  shares: readonly (readonly number[])[];
  batch: Batch;
  /** Grams of components that the panel drinks of one bottle; null where the brief does not say. */
  needed: number | null;
  bottles: number;
}

/** A smaller batch that is weighed as well as asked, and the stocks that it takes. */
export interface SmallerBatch {
  grams: number;
  /** Percent by mass, by place of the component. */
  stocks: { component: number; strength: number }[];
  /** Grams of components that all bottles together then do without. */
  saves: number;
  /** What holds the batch at this size. */
  because: 'panel' | 'balance' | 'bottle';
}

/** Without `batch.tolerance` a mass should be known this well, as elsewhere. */
const USUAL_TOLERANCE = 0.01;
/** What clings to walls and droppers spoils smaller ones (common practice, no published source). */
const LEAST_GRAMS = 1;
const NICE = [1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10];

/**
 * The smallest batch that serves the panel and stays weighable: it is the balance that sets it. A mass must be at
 * least its standard uncertainty over the tolerance; a component whose share is too small for that is weighed from a stock, the
 * strongest that will do, and only the component with the largest least share must do neat.
 *
 * @returns null where no smaller batch than the brief's will do
 */
export function smallerBatch({ shares, batch, needed, bottles }: BatchQuestion): SmallerBatch | null {
  const mass = massUncertainty(batch) / (batch.tolerance ?? USUAL_TOLERANCE);
  const least = shares[0]!.map((_, i) => {
    const used = shares.map((mix) => mix[i]!).filter((share) => share > 0);
    return used.length === 0 ? Number.POSITIVE_INFINITY : Math.min(...used);
  });
  const neat = Math.max(...least.filter(Number.isFinite));
  const floors = { panel: needed ?? 0, balance: mass / neat, bottle: LEAST_GRAMS };
  const because = (['panel', 'balance', 'bottle'] as const).reduce((a, b) => (floors[b] > floors[a] ? b : a));
  const grams = roundUp(floors[because], batch.readability);
  if (grams > 0.8 * batch.grams) return null;
  const stocks: SmallerBatch['stocks'] = [];
  for (const [component, share] of least.entries()) {
    if (grams * share >= mass * (1 - 1e-9)) continue;
    const strength = STRENGTHS.find((s) => (grams * share * 100) / s >= mass);
    if (strength === undefined) return null;
    stocks.push({ component, strength });
  }
  return { grams, stocks, saves: decimal(bottles * (batch.grams - grams)), because };
}

/** The next round number that is a whole multiple of the readability. */
function roundUp(grams: number, readability: number): number {
  const power = 10 ** Math.floor(Math.log10(grams));
  const nice = NICE.map((times) => times * power).find((size) => size >= grams * (1 - 1e-9))!;
  return decimal(Math.ceil(nice / readability - 1e-9) * readability);
}
