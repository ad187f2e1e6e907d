import type { Random } from '../numeric/random.ts';
import { type Region, type RegionBody, toShares } from './region.ts';

/**
 * Points uniform over the region: hit-and-run (Smith 1984) in the region's own frame, in which a thin region is as
 * long as it is wide, so that it is walked through as fast as any other.
 *
 * @param count how many points. @param thin steps between two points; default 3 × dimension + 3.
 */
export function samplePoints(
  region: Region,
  random: Random,
  count: number,
  thin = 3 * region.dimension + 3,
): number[][] {
  const d = region.dimension;
  if (d === 0) return Array.from({ length: count }, () => [...region.inner]);
  const y = new Float64Array(d);
  const step = new Float64Array(d);
  const out: number[][] = [];
  for (let k = -30 * thin; k < count * thin; k++) {
    for (let i = 0; i < d; i++) step[i] = random.normal();
    move(region, y, step, random);
    if (k >= 0 && k % thin === thin - 1) out.push(toShares(region, y));
  }
  return out;
}

/** Moves to a uniform point of the chord through y along the step. */
function move(region: RegionBody, y: Float64Array, step: Float64Array, random: Random): void {
  let back = Number.NEGATIVE_INFINITY;
  let ahead = Number.POSITIVE_INFINITY;
  for (const { slope, inner } of region.facets) {
    let slack = inner;
    let along = 0;
    for (let k = 0; k < y.length; k++) {
      slack += slope[k]! * y[k]!;
      along += slope[k]! * step[k]!;
    }
    const t = -Math.max(0, slack) / along;
    if (along > 0) back = Math.max(back, t);
    else if (along < 0) ahead = Math.min(ahead, t);
  }
  if (!Number.isFinite(back) || !Number.isFinite(ahead)) return;
  const t = back + (ahead - back) * random.uniform();
  for (let k = 0; k < y.length; k++) y[k] = y[k]! + t * step[k]!;
}
