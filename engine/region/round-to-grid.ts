import { innerProduct } from '../numeric/dense.ts';
import { isAllowed, type RegionBody } from './region.ts';
import { formFor, type WeighingForm, type WeighingGrid } from './weighing-grid.ts';

/** A mix on the grid before it is dressed up: units and form of each component. */
export interface GridPoint {
  units: number[];
  forms: WeighingForm[];
}

const REPAIRS = 24;

/**
 * A feasible grid point near the given shares by rounding, largest remainders first, then by moving single steps
 * between two components while that lessens how far bounds are missed. Null where this finds none: a program over
 * whole numbers may still.
 */
export function roundToGrid(
  region: RegionBody,
  shares: ArrayLike<number>,
  grid: WeighingGrid,
): GridPoint | null {
  const forms = region.space.components.map((_, i) => formFor(grid, i, shares[i]! * grid.total));
  const units = roundToSum(shares, forms, grid);
  if (units === null) return null;
  let missed = missOf(region, units, grid);
  for (let k = 0; missed > 0 && k < REPAIRS; k++) {
    const better = bestMove(region, shares, { units, forms }, grid, missed);
    if (better === null) return null;
    for (let i = 0; i < units.length; i++) units[i] = better.units[i]!;
    missed = better.missed;
  }
  return missed > 0 ? null : { units, forms };
}

/** Whole numbers of steps nearest to the shares, one form each, that sum to the batch exactly. */
function roundToSum(
  shares: ArrayLike<number>,
  forms: readonly WeighingForm[],
  grid: WeighingGrid,
): number[] | null {
  const exact = forms.map((_, i) => shares[i]! * grid.total);
  const units = exact.map((v, i) => Math.round(v / forms[i]!.unit) * forms[i]!.unit);
  settleStocks(exact, units, forms, grid);
  let left = grid.total - units.reduce((a, b) => a + b, 0);
  const neat = forms.flatMap((form, i) => (form.unit === grid.perStep ? [i] : []));
  if (neat.length === 0) return left === 0 ? units : null;
  while (left !== 0) {
    const sign = Math.sign(left);
    const open = neat.filter((i) => sign > 0 || units[i]! > 0);
    if (open.length === 0) return null;
    const next = open.reduce((best, i) =>
      sign * (exact[i]! - units[i]!) > sign * (exact[best]! - units[best]!) ? i : best,
    );
    units[next] = units[next]! + sign * grid.perStep;
    left -= sign * grid.perStep;
  }
  return units;
}

/** Moves the largest mass that comes from a stock until all stocks together hold whole steps of the balance. */
function settleStocks(
  exact: readonly number[],
  units: number[],
  forms: readonly WeighingForm[],
  grid: WeighingGrid,
): void {
  const fromStock = forms.flatMap((form, i) => (form.unit === grid.perStep ? [] : [i]));
  if (fromStock.length === 0) return;
  const largest = fromStock.reduce((best, i) => (exact[i]! > exact[best]! ? i : best));
  const rest = fromStock.reduce((sum, i) => (i === largest ? sum : sum + units[i]!), 0);
  const unit = forms[largest]!.unit;
  const base = units[largest]!;
  for (let away = 0; away <= grid.perStep / unit + 1; away++)
    for (const candidate of [base + away * unit, base - away * unit])
      if (candidate >= 0 && (rest + candidate) % grid.perStep === 0) {
        units[largest] = candidate;
        return;
      }
}

/** How far bounds are missed in all, relative to their ranges; 0 inside. */
function missOf(region: RegionBody, units: readonly number[], grid: WeighingGrid): number {
  const shares = units.map((u) => u / grid.total);
  if (isAllowed(region, shares)) return 0;
  let miss = 1e-12;
  for (const { limit, range } of region.facets)
    miss += Math.max(0, limit.at - innerProduct(limit.coefficients, shares)) / range;
  for (const limit of region.equalities)
    miss += Math.abs(innerProduct(limit.coefficients, shares) - limit.at);
  return miss;
}

function bestMove(
  region: RegionBody,
  target: ArrayLike<number>,
  { units, forms }: GridPoint,
  grid: WeighingGrid,
  missed: number,
) {
  let best: { units: number[]; missed: number; away: number } | null = null;
  for (let i = 0; i < units.length; i++)
    for (let j = 0; j < units.length; j++) {
      const step = Math.max(forms[i]!.unit, forms[j]!.unit);
      if (i === j || step % forms[i]!.unit !== 0 || step % forms[j]!.unit !== 0 || units[j]! < step) continue;
      const moved = units.with(i, units[i]! + step).with(j, units[j]! - step);
      const miss = missOf(region, moved, grid);
      const away = moved.reduce((sum, u, k) => sum + Math.abs(u / grid.total - target[k]!), 0);
      if (miss < (best?.missed ?? missed) || (best !== null && miss === best.missed && away < best.away))
        best = { units: moved, missed: miss, away };
    }
  return best;
}
