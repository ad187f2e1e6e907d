import { isAllowed } from '../region/region.ts';
import type { GridSpot } from './grid-spot.ts';
import type { SearchProblem } from './plan-problem.ts';

/** The mix with one, two, four … steps moved from one component to another. */
export function shiftsOf({ region, grid }: SearchProblem, spot: GridSpot): GridSpot[] {
  const { units, forms } = spot.point;
  const found: GridSpot[] = [];
  for (let i = 0; i < units.length; i++)
    for (let j = 0; j < units.length; j++) {
      const unit = Math.max(forms[i]!.unit, forms[j]!.unit);
      if (i === j || unit % forms[i]!.unit !== 0 || unit % forms[j]!.unit !== 0) continue;
      for (let by = unit; by <= units[j]!; by *= 2) {
        const moved = units.with(i, units[i]! + by).with(j, units[j]! - by);
        const shares = moved.map((u) => u / grid.total);
        if (!isAllowed(region, shares)) break;
        found.push({ ...spot, point: { units: moved, forms }, shares });
      }
    }
  return found;
}
