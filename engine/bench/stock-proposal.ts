import { type Balance, smallestMass, toStep } from './balance.ts';

const WEAKEST = 1e-6;

export interface StockMaking {
  /** What goes in: the material itself, or its stock of ten times the strength. */
  from: { strength: number; grams: number };
  solventGrams: number;
}

export interface StockProposal {
  material: string;
  /** Percent by mass of what the formula's line names, in the solvent. */
  strength: number;
  solvent: string;
  /** Of the stock, to be weighed into the formula. */
  grams: number;
  /** How to make it, strongest first, each known to the tolerance. */
  make: StockMaking[];
}

/**
 * The strongest of 10, 1, 0.1 … % by mass of which enough is weighed to know the mass to the tolerance; null where
 * the mass as it stands is enough, or is nothing.
 */
export function stockStrength(grams: number, balance: Balance, tolerance: number): number | null {
  const least = smallestMass(balance, tolerance);
  if (!(grams > 0) || isEnough(grams, balance, least)) return null;
  for (let strength = 10; strength >= WEAKEST; strength /= 10)
    if (isEnough((grams * 100) / strength, balance, least)) return Number(strength.toPrecision(6));
  return null;
}

/** Judged by what the balance will show: the rounded mass. */
function isEnough(grams: number, { readability }: Balance, least: number): boolean {
  return toStep(grams, readability) >= least * (1 - 1e-12);
}

/**
 * How to make a stock: one part of the material to nine of solvent, as often as its strength asks for, each time at
 * least as much as the tolerance needs and, in the end, a fifth more than will be weighed.
 */
export function stockMaking(
  strength: number,
  needed: number,
  balance: Balance,
  tolerance: number,
): StockMaking[] {
  const least = smallestMass(balance, tolerance);
  const steps = Math.round(Math.log10(100 / strength));
  const making: StockMaking[] = [];
  let want = 1.2 * needed;
  for (let step = steps; step >= 1; step--) {
    const grams = upToStep(Math.max(want / 10, least), balance.readability);
    making.unshift({
      from: { strength: Number((100 / 10 ** (step - 1)).toPrecision(6)), grams },
      solventGrams: toStep(9 * grams, balance.readability),
    });
    want = grams;
  }
  return making;
}

function upToStep(grams: number, readability: number): number {
  return toStep(Math.ceil(grams / readability - 1e-9) * readability, readability);
}
