import type { LinearSolver } from '../numeric/linear-solver.ts';
import { isAllowed, type RegionBody } from '../region/region.ts';
import { decimal, type WeighingGrid } from '../region/weighing-grid.ts';
import { pourFromLeftovers } from './leftover-program.ts';
import type { FromLeftovers, Leftover } from './leftover-types.ts';
import { toWholeSteps, type WholeMasses } from './whole-steps.ts';

/** What mixing from leftovers rests on. */
export interface LeftoverBench {
  region: RegionBody;
  grid: WeighingGrid;
  /** Price of a gram by component id; missing ones count as one. */
  prices: Readonly<Record<string, number>>;
  solver: LinearSolver;
}

/** One weighing is worth this part of the batch, at the mean price: a pour that saves less is not worth its trouble. */
const WEIGHING = 0.02;
/** Steps of the balance below which nothing is poured: known worse than two in a hundred. */
const LEAST_STEPS = 20;

/**
 * Makes up a blend from what is left and fresh material, where that saves material or weighings. Masses are in whole
 * steps of the balance and sum to the batch; what they make is worked out from the bottles' own shares as weighed,
 * and lies inside the region, or there is no offer.
 *
 * @param wanted grams of each component
 * @param leftovers what may be poured
 */
export function makeFromLeftovers(
  wanted: readonly number[],
  leftovers: readonly Leftover[],
  bench: LeftoverBench,
): FromLeftovers {
  const { region, grid, prices, solver } = bench;
  const { grams, readability } = grid.batch;
  const priceOf = region.space.components.map(({ id }) => (Object.hasOwn(prices, id) ? prices[id]! : 1));
  const meanPrice = priceOf.reduce((a, b) => a + b, 0) / priceOf.length;
  const least = LEAST_STEPS * readability;
  const finest = grid.forms.map((forms) => forms[forms.length - 1]!.unit / grid.perStep);
  const found = pourFromLeftovers(
    {
      wanted,
      leftovers,
      prices: priceOf,
      weighing: WEIGHING * grams * (meanPrice || 1),
      slack: readability / 2,
      leastPour: least,
      leastFresh: wanted.map((g, j) => Math.min(g, least * finest[j]!)),
    },
    solver,
  );
  const left = leftovers.map((leftover) => leftover.grams);
  const masses = found && toWholeSteps(found, left, grid);
  return (masses && offerOf(masses, { wanted, leftovers, bench })) ?? nothingSaved(wanted, bench);
}

interface Offered {
  wanted: readonly number[];
  leftovers: readonly Leftover[];
  bench: LeftoverBench;
}

/** Null where what comes out is outside the region, or where nothing is poured. */
function offerOf(masses: WholeMasses, { wanted, leftovers, bench }: Offered): FromLeftovers | null {
  const { region, grid, prices } = bench;
  const { grams: batch, readability } = grid.batch;
  const ids = region.space.components.map(({ id }) => id);
  const gramsOf = (units: number) => decimal((units / grid.perStep) * readability);
  const [poured, fresh] = [masses.poured.map(gramsOf), masses.fresh.map(gramsOf)];
  const shares = ids.map((_, j) => {
    return poured.reduce((sum, g, i) => sum + g * leftovers[i]!.shares[j]!, fresh[j]!) / batch;
  });
  if (!poured.some((g) => g > 0) || !isAllowed(region, shares, 1e-9)) return null;
  const saved = decimal(poured.reduce((a, b) => a + b, 0));
  const used = [...poured, ...fresh].filter((g) => g > 0).length;
  const weighings = wanted.filter((g) => g > 0).length - used;
  const priced = ids.every((id) => Object.hasOwn(prices, id));
  return {
    pours: leftovers.flatMap(({ blend }, i) => (poured[i]! > 0 ? [{ mix: blend, grams: poured[i]! }] : [])),
    fresh: withoutNothing(ids, fresh),
    ...weighOf(masses, bench),
    ratios: Object.fromEntries(ids.map((id, j) => [id, shares[j]!])),
    saves: {
      grams: saved,
      money: priced ? ids.reduce((sum, id, j) => sum + prices[id]! * (wanted[j]! - fresh[j]!), 0) : null,
      weighings,
    },
    says: saysOf(saved, weighings, batch),
  };
}

function weighOf(
  { fresh, forms }: WholeMasses,
  { region, grid }: LeftoverBench,
): Pick<FromLeftovers, 'weigh'> {
  if (grid.forms.every((list) => list.length === 1)) return {};
  const weigh = region.space.components.flatMap(({ id }, j) => {
    const steps = Math.round(fresh[j]! / forms[j]!.unit);
    if (steps === 0) return [];
    return [{ component: id, strength: forms[j]!.strength, grams: decimal(steps * grid.batch.readability) }];
  });
  return { weigh };
}

function withoutNothing(ids: readonly string[], grams: readonly number[]): Record<string, number> {
  return Object.fromEntries(ids.flatMap((id, j) => (grams[j]! > 0 ? [[id, grams[j]!]] : [])));
}

function saysOf(saved: number, weighings: number, batch: number): string {
  const material = `saves ${saved} of ${batch} g of fresh material`;
  if (weighings === 0) return `Mixed from what is left: ${material}.`;
  const count = `${Math.abs(weighings)} ${Math.abs(weighings) === 1 ? 'weighing' : 'weighings'}`;
  return weighings > 0
    ? `Mixed from what is left: ${material} and ${count}.`
    : `Mixed from what is left: ${material}, with ${count} more.`;
}

function nothingSaved(wanted: readonly number[], { region }: LeftoverBench): FromLeftovers {
  const total = wanted.reduce((a, b) => a + b, 0);
  const ids = region.space.components.map(({ id }) => id);
  return {
    pours: [],
    fresh: withoutNothing(ids, wanted),
    ratios: Object.fromEntries(ids.map((id, j) => [id, wanted[j]! / total])),
    saves: { grams: 0, money: 0, weighings: 0 },
    says: 'From fresh material alone: what is left would save neither material nor weighings.',
  };
}
