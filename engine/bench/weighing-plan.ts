import { type Balance, pharmacopoeiaMinimum, smallestMass, toStep, weighingUncertainty } from './balance.ts';
import type { Line, Materials, Volatility } from './material.ts';
import type { Pouring } from './pouring.ts';
import { type StockProposal, stockMaking, stockStrength } from './stock-proposal.ts';
import { explodeAll } from './strength.ts';
import { takeSolvent } from './take-solvent.ts';

export interface WeighingStep {
  material: string;
  /** Which line of the formula, counted from 0. */
  line: number;
  /** A whole number of the balance's steps. */
  grams: number;
  /** What the balance shows when this has gone in, tared empty. */
  showTotal: number;
  /** One standard uncertainty of this mass, as a fraction. */
  relativeError: number;
  /** One standard uncertainty of its share of the whole, as a fraction of the share, from all errors together. */
  shareError: number;
  /** Percent by mass of the line's material in what is weighed; below 100 where a stock stands in. */
  strength: number;
}

export interface WeighingPlan {
  steps: WeighingStep[];
  stocks: StockProposal[];
  /** The least that this balance knows to the tolerance, and the least by USP <41> (0.10 %). */
  smallestGrams: number;
  pharmacopoeiaGrams: number;
  warnings: string[];
}

export interface WeighingInput {
  lines: readonly Line[];
  materials: Materials;
  balance: Balance;
  /** How well each mass should be known, as a fraction of one standard uncertainty; default 0.01. */
  tolerance?: number | undefined;
}

/**
 * A weighing plan on one tared vessel: carriers and what lasts first, top notes last, the most first among equals
 * (common practice). Where the balance knows a mass to worse than the tolerance, a stock stands in for it, and the
 * carrier that the stock brings is taken off the carrier's own line.
 *
 * @throws EngineError where a mass, the balance or the tolerance makes no sense
 */
export function weighingPlan({ lines, materials, balance, tolerance = 0.01 }: WeighingInput): WeighingPlan {
  explodeAll(lines, materials);
  const smallestGrams = smallestMass(balance, tolerance);
  const wanted = lines.filter(({ grams }) => grams > 0).map((line) => pouringOf(line, materials));
  const { pourings, stocks, warnings } = withStocks(wanted, { materials, balance, tolerance });
  return {
    steps: toSteps(inPouringOrder(pourings), lines, balance),
    stocks,
    smallestGrams,
    pharmacopoeiaGrams: pharmacopoeiaMinimum(balance),
    warnings: [...warnings, ...tooSmall(pourings, balance, tolerance)],
  };
}

function pouringOf(line: Line, materials: Materials): Pouring {
  const { volatility } = materials.get(line.material)!;
  return { line, grams: line.grams, strength: 100, volatility };
}

function withStocks(
  pourings: readonly Pouring[],
  { materials, balance, tolerance }: { materials: Materials; balance: Balance; tolerance: number },
): { pourings: Pouring[]; stocks: StockProposal[]; warnings: string[] } {
  const stocks: StockProposal[] = [];
  let left: Pouring[] = [...pourings];
  const warnings: string[] = [];
  for (const pouring of pourings) {
    const strength = stockStrength(pouring.grams, balance, tolerance);
    if (strength === null) continue;
    const stockGrams = (pouring.grams * 100) / strength;
    const taken = takeSolvent(left, pouring, stockGrams - pouring.grams, materials);
    left = taken.pourings.map((one) =>
      one.line === pouring.line ? { ...one, grams: stockGrams, strength } : one,
    );
    warnings.push(...taken.warnings);
    const grams = toStep(stockGrams, balance.readability);
    const make = stockMaking(strength, grams, balance, tolerance);
    stocks.push({ material: pouring.line.name, strength, solvent: taken.solvent, grams, make });
  }
  return { pourings: left, stocks, warnings };
}

const RANK: Readonly<Record<Volatility, number>> = { carrier: 0, low: 1, middle: 2, high: 3 };

function inPouringOrder(pourings: readonly Pouring[]): Pouring[] {
  return [...pourings].sort((a, b) => RANK[a.volatility] - RANK[b.volatility] || b.grams - a.grams);
}

function toSteps(pourings: readonly Pouring[], lines: readonly Line[], balance: Balance): WeighingStep[] {
  const error = weighingUncertainty(balance);
  const shown = pourings
    .map((pouring) => ({ ...pouring, grams: toStep(pouring.grams, balance.readability) }))
    .filter(({ grams }) => grams > 0);
  const whole = shown.reduce((sum, { grams }) => sum + grams, 0);
  let total = 0;
  return shown.map(({ line, grams, strength }) => {
    total = toStep(total + grams, balance.readability);
    return {
      material: line.name,
      line: lines.indexOf(line),
      grams,
      showTotal: total,
      relativeError: error / grams,
      shareError: shareError(grams / whole, error / grams, shown.length, error / whole),
      strength,
    };
  });
}

/** Var(p)/p² = (1 - p)² r² + (n - 1) (u/whole)², since the share is m over the sum of independent masses. */
function shareError(share: number, relative: number, count: number, errorOfWhole: number): number {
  return Math.hypot((1 - share) * relative, Math.sqrt(count - 1) * errorOfWhole);
}

function tooSmall(pourings: readonly Pouring[], balance: Balance, tolerance: number): string[] {
  const least = smallestMass(balance, tolerance);
  return pourings
    .filter(({ grams }) => toStep(grams, balance.readability) < least * (1 - 1e-12))
    .map(({ line, grams }) => {
      const gone = toStep(grams, balance.readability) === 0 ? ', rounds to nothing and is left out' : '';
      return `${line.name}: ${grams.toPrecision(3)} g is less than the ${least.toPrecision(3)} g that this balance knows to ${100 * tolerance} %${gone}: make a larger batch, or take a finer balance`;
    });
}
