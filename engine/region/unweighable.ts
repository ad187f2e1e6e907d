import { EngineError } from '../errors.ts';
import type { LinearSolver } from '../numeric/linear-solver.ts';
import { nearestOnGrid } from './grid-program.ts';
import { nameOf, sayNumber } from './limits.ts';
import type { Region } from './region.ts';
import { decimal, massUncertainty, relativeUncertainty, type WeighingGrid } from './weighing-grid.ts';

/** Strengths in percent that people make up. */
export const STRENGTHS = [50, 25, 20, 10, 5, 2, 1, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01];
const LARGER = [2, 2.5, 5, 10, 20, 50, 100];

/**
 * The error for a region in which no mix is a whole number of steps: names the component with the least room on
 * this balance and the mildest remedy that works, tried in turn: a stock of it, stocks of it and of another
 * component, a larger batch.
 */
export function refuseUnweighable(region: Region, grid: WeighingGrid, solver: LinearSolver): EngineError {
  const { grams, readability } = grid.batch;
  const fault = leastRoom(region);
  const name = nameOf(region.space, fault, region.names);
  const mass = (share: number) => sayNumber(share * grams);
  const remedy = stockRemedy(region, grid, solver, fault) ?? batchRemedy(region, grid, solver);
  return new EngineError(
    'unweighable',
    `components[${fault}]`,
    readability,
    'a balance, a batch or stocks with which some allowed mix is a whole number of steps',
    `No allowed mix of ${sayNumber(grams)} g is a whole number of steps of ${sayNumber(readability)} g: ${name} has only ${mass(region.low[fault]!)} to ${mass(region.high[fault]!)} g to vary in. ${remedy}`,
  );
}

function leastRoom(region: Region): number {
  const room = region.low.map((l, i) => region.high[i]! - l);
  const free = room.flatMap((r, i) => (r > 0 ? [i] : []));
  const pool = free.length > 0 ? free : room.map((_, i) => i);
  return pool.reduce((best, i) => (room[i]! < room[best]! ? i : best));
}

function stockRemedy(region: Region, grid: WeighingGrid, solver: LinearSolver, fault: number): string | null {
  const others = region.space.components.map((_, i) => i).filter((i) => i !== fault);
  const largest = others.reduce((best, i) => (region.high[i]! > region.high[best]! ? i : best));
  for (const diluted of [[fault], [fault, largest]])
    for (const strength of STRENGTHS) {
      const finer = { ...grid, perStep: grid.perStep * 10_000, total: grid.total * 10_000 };
      const forms = grid.forms.map((list, i) => ({
        strength: diluted.includes(i) ? strength : 100,
        unit: diluted.includes(i) ? Math.round(finer.perStep * (strength / 100)) : list[0]!.unit * 10_000,
      }));
      if (nearestOnGrid(region, region.inner, forms, { grid: finer, solver }) === null) continue;
      const names = diluted.map((i) => nameOf(region.space, i, region.names)).join(' and of ');
      return `A ${sayNumber(strength)} % stock of ${names} would make it weighable.`;
    }
  return null;
}

function batchRemedy(region: Region, grid: WeighingGrid, solver: LinearSolver): string {
  const forms = grid.forms.map((list) => list[0]!);
  for (const times of LARGER) {
    const larger = { ...grid, total: grid.total * times };
    if (!Number.isInteger(larger.total)) continue;
    if (nearestOnGrid(region, region.inner, forms, { grid: larger, solver }) !== null)
      return `A batch of ${sayNumber(grid.batch.grams * times)} g would make it weighable.`;
  }
  return 'The bounds leave too little room for any batch up to a hundred times larger: widen them.';
}

/**
 * Components that the balance cannot weigh to the tolerance in some mix, each in a sentence with the strongest
 * stock that would do.
 *
 * @param weighed for each mix, the steps of the balance and the strength by component.
 */
export function poorlyKnown(
  region: Region,
  { batch }: WeighingGrid,
  weighed: readonly (readonly { strength: number; grams: number }[])[],
): string[] {
  const { tolerance, readability } = batch;
  if (tolerance === undefined) return [];
  return region.space.components.flatMap((_, i) => {
    const least = weighed
      .map((mix) => mix[i]!)
      .filter(({ grams }) => grams > 0)
      .reduce<{ strength: number; grams: number } | null>((a, b) => (a && a.grams <= b.grams ? a : b), null);
    if (least === null) return [];
    const error = relativeUncertainty(batch, least.grams / readability);
    if (error <= tolerance * (1 + 1e-9)) return [];
    const pure = (least.grams * least.strength) / 100;
    const needed = massUncertainty(batch) / tolerance;
    const strength = STRENGTHS.find((s) => (pure * 100) / s >= needed);
    const name = nameOf(region.space, i, region.names);
    const how =
      strength === undefined
        ? 'a larger batch or a finer balance is needed'
        : `a ${sayNumber(strength)} % stock (${sayNumber(decimal((pure * 100) / strength))} g) would do`;
    return [
      `${name}: the smallest mass planned, ${sayNumber(least.grams)} g, is known to ${percentApart(error, tolerance)} on this balance, not to ${percent(tolerance)}; ${how}.`,
    ];
  });
}

function percent(part: number, digits = 2): string {
  return `${Number((part * 100).toPrecision(digits))} %`;
}

/** With as many digits as it takes to differ from another. */
function percentApart(part: number, other: number): string {
  const digits = [2, 3, 4, 5].find((d) => percent(part, d) !== percent(other));
  return percent(part, digits);
}
