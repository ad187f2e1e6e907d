import type { LinearSolver } from '../numeric/linear-solver.ts';
import { isAllowed, type Region } from '../region/region.ts';
import { type Batch, decimal } from '../region/weighing-grid.ts';
import { pourFromLeftovers } from './leftover-program.ts';
import type { FromLeftovers, Leftover } from './leftover-types.ts';

/** What mixing from leftovers rests on. */
export interface LeftoverShelf {
  region: Region;
  batch: Batch;
  /** Price of a gram by component id; missing ones count as one. */
  prices: Readonly<Record<string, number>>;
  solver: LinearSolver;
}

/** One weighing is worth this part of the batch, at the mean price: a pour that saves less is not worth its trouble. */
const WEIGHING = 0.02;
/** Steps of the balance below which nothing is poured: known worse than two in a hundred. */
const LEAST_STEPS = 20;

/**
 * Makes up a blend from what is left, where that saves material or weighings, and takes what it pours off the
 * leftovers, so that the next blend finds what is still there.
 *
 * Masses are in whole steps of the balance and sum to the batch; what they make is worked out from the leftovers'
 * own shares, and is inside the region, or there is no offer.
 *
 * @param wanted grams of each component
 * @param leftovers changed: what is poured is taken off
 */
export function makeFromLeftovers(
  wanted: readonly number[],
  leftovers: { mix: string; grams: number; shares: readonly number[] }[],
  shelf: LeftoverShelf,
): FromLeftovers {
  const { region, batch, prices, solver } = shelf;
  const ids = region.space.components.map(({ id }) => id);
  const priceOf = ids.map((id) => (Object.hasOwn(prices, id) ? prices[id]! : 1));
  const meanPrice = priceOf.reduce((a, b) => a + b, 0) / priceOf.length;
  const found = pourFromLeftovers(
    {
      wanted,
      leftovers,
      prices: priceOf,
      weighing: WEIGHING * batch.grams * (meanPrice || 1),
      slack: batch.readability / 2,
      leastPour: LEAST_STEPS * batch.readability,
    },
    solver,
  );
  const steps = found && wholeSteps([...found.poured, ...found.fresh], leftovers, batch);
  const offer = steps && offerOf(steps, { wanted, leftovers, shelf });
  if (!offer) return nothingSaved(wanted, ids);
  leftovers.forEach((leftover, i) => {
    leftover.grams = decimal(leftover.grams - steps[i]! * batch.readability);
  });
  return offer;
}

/** Rounds to steps of the balance that sum to the batch, no leftover beyond what is left; null where that fails. */
function wholeSteps(grams: readonly number[], leftovers: readonly Leftover[], batch: Batch): number[] | null {
  const total = Math.round(batch.grams / batch.readability);
  const exact = grams.map((g) => g / batch.readability);
  const most = grams.map((_, i) => {
    const left = leftovers[i];
    return left ? Math.floor(left.grams / batch.readability + 1e-9) : total;
  });
  const steps = exact.map((e, i) => Math.min(most[i]!, Math.round(e)));
  let missing = total - steps.reduce((a, b) => a + b, 0);
  const byGap = exact.map((e, i) => i).filter((i) => exact[i]! > 0);
  while (missing !== 0) {
    const sign = Math.sign(missing);
    const open = byGap.filter((i) => steps[i]! + sign >= 0 && steps[i]! + sign <= most[i]!);
    if (open.length === 0) return null;
    const pick = open.reduce((a, b) =>
      sign * (exact[b]! - steps[b]!) > sign * (exact[a]! - steps[a]!) ? b : a,
    );
    steps[pick]! += sign;
    missing -= sign;
  }
  return steps;
}

interface Offered {
  wanted: readonly number[];
  leftovers: readonly Leftover[];
  shelf: LeftoverShelf;
}

/** Null where what comes out is outside the region, or where nothing is saved. */
function offerOf(steps: readonly number[], { wanted, leftovers, shelf }: Offered): FromLeftovers | null {
  const { region, batch, prices } = shelf;
  const ids = region.space.components.map(({ id }) => id);
  const grams = steps.map((s) => decimal(s * batch.readability));
  const poured = grams.slice(0, leftovers.length);
  const fresh = grams.slice(leftovers.length);
  const shares = ids.map((_, j) => {
    const fromLeft = leftovers.reduce((sum, left, i) => sum + poured[i]! * left.shares[j]!, 0);
    return (fromLeft + fresh[j]!) / batch.grams;
  });
  if (!poured.some((g) => g > 0) || !isAllowed(region, shares, 1e-9)) return null;
  const saved = decimal(poured.reduce((a, b) => a + b, 0));
  const money = ids.every((id) => Object.hasOwn(prices, id))
    ? ids.reduce((sum, id, j) => sum + prices[id]! * (wanted[j]! - fresh[j]!), 0)
    : null;
  const weighings = wanted.filter((g) => g > 0).length - grams.filter((g) => g > 0).length;
  return {
    pours: leftovers.flatMap(({ mix }, i) => (poured[i]! > 0 ? [{ mix, grams: poured[i]! }] : [])),
    fresh: Object.fromEntries(ids.flatMap((id, j) => (fresh[j]! > 0 ? [[id, fresh[j]!]] : []))),
    ratios: Object.fromEntries(ids.map((id, j) => [id, shares[j]!])),
    saves: { grams: saved, money, weighings },
    says: saysOf(saved, weighings, batch),
  };
}

function saysOf(saved: number, weighings: number, batch: Batch): string {
  const material = `saves ${saved} of ${batch.grams} g of fresh material`;
  if (weighings === 0) return `Mixed from what is left: ${material}.`;
  const count = `${Math.abs(weighings)} ${Math.abs(weighings) === 1 ? 'weighing' : 'weighings'}`;
  return weighings > 0
    ? `Mixed from what is left: ${material} and ${count}.`
    : `Mixed from what is left: ${material}, with ${count} more.`;
}

function nothingSaved(wanted: readonly number[], ids: readonly string[]): FromLeftovers {
  const total = wanted.reduce((a, b) => a + b, 0);
  return {
    pours: [],
    fresh: Object.fromEntries(ids.flatMap((id, j) => (wanted[j]! > 0 ? [[id, wanted[j]!]] : []))),
    ratios: Object.fromEntries(ids.map((id, j) => [id, wanted[j]! / total])),
    saves: { grams: 0, money: 0, weighings: 0 },
    says: 'From fresh material alone: what is left would save neither material nor weighings.',
  };
}
