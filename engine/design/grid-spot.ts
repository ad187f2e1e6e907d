import type { GridPoint } from '../region/round-to-grid.ts';
import type { WeighingGrid } from '../region/weighing-grid.ts';
import type { Spot } from './candidate-table.ts';

/** A mix of the plan in whole steps, settings at offered values. */
export interface GridSpot extends Spot {
  point: GridPoint;
}

/** The balance's grid, and the offered values of each setting. */
interface GridAndLevels {
  grid: WeighingGrid;
  levels: readonly { coded: readonly number[] }[];
}

/** A grid point with the offered values of the settings nearest to the given ones. */
export function gridSpot(
  { grid, levels }: GridAndLevels,
  point: GridPoint,
  coded: readonly number[],
): GridSpot {
  return {
    point,
    shares: point.units.map((u) => u / grid.total),
    coded: coded.map((z, s) => nearestLevel(levels[s]!.coded, z)),
  };
}

function nearestLevel(levels: readonly number[], z: number): number {
  return levels.reduce((best, level) => (Math.abs(level - z) < Math.abs(best - z) ? level : best));
}
