import type { LinearSolver } from '../numeric/linear-solver.ts';
import { nearestOnGrid } from './grid-program.ts';
import { isAllowed, type RegionBody } from './region.ts';
import { type GridPoint, roundToGrid } from './round-to-grid.ts';
import { type Batch, decimal, formFor, type WeighingGrid, weighingGrid } from './weighing-grid.ts';

export type { Batch, Stocks } from './weighing-grid.ts';

/** What to put on the balance for one component. */
export interface Weighing {
  component: string;
  /** Percent by mass of the component in what is weighed. */
  strength: number;
  grams: number;
}

/** A feasible mix in whole steps of the balance. */
export interface WeighableMix {
  /** Units of the grid for each component; without stocks these are steps of the balance. */
  steps: number[];
  /** Mass of each component, whichever form it is weighed in. */
  grams: number[];
  shares: number[];
  /** What to weigh; present where some component has stocks. */
  weigh?: Weighing[];
}

/**
 * The feasible weighable mix nearest to given shares: rounding and repair first, then the integer program. Null
 * where no whole number of steps fits the region.
 */
export function nearestWeighable(
  region: RegionBody,
  shares: ArrayLike<number>,
  batch: Batch | WeighingGrid,
  solver: LinearSolver,
): WeighableMix | null {
  const grid = 'forms' in batch ? batch : weighingGrid(region.space, batch);
  const point = nearestPoint(region, shares, grid, solver);
  return point === null ? null : mixOnGrid(region, point, grid);
}

/** The same as a point of the grid. */
export function nearestPoint(
  region: RegionBody,
  shares: ArrayLike<number>,
  grid: WeighingGrid,
  solver: LinearSolver,
): GridPoint | null {
  return roundToGrid(region, shares, grid) ?? byProgram(region, shares, grid, solver);
}

function byProgram(
  region: RegionBody,
  shares: ArrayLike<number>,
  grid: WeighingGrid,
  solver: LinearSolver,
): GridPoint | null {
  const forms = region.space.components.map((_, i) => formFor(grid, i, shares[i]! * grid.total));
  const units = nearestOnGrid(region, shares, forms, { grid, solver });
  if (units === null) return null;
  return isAllowed(
    region,
    units.map((u) => u / grid.total),
    1e-9,
  )
    ? { units, forms }
    : null;
}

/** Masses as the shortest decimals that mean them, shares of exactly these masses. */
export function mixOnGrid(region: RegionBody, { units, forms }: GridPoint, grid: WeighingGrid): WeighableMix {
  const { readability } = grid.batch;
  const mix: WeighableMix = {
    steps: [...units],
    grams: units.map((u) => decimal((u / grid.perStep) * readability)),
    shares: units.map((u) => u / grid.total),
  };
  if (grid.forms.every((list) => list.length === 1)) return mix;
  const weigh = region.space.components.map(({ id }, i) => ({
    component: id,
    strength: forms[i]!.strength,
    grams: decimal(Math.round(units[i]! / forms[i]!.unit) * readability),
  }));
  return { ...mix, weigh };
}
