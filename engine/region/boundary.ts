import { removeSpan, spanOf } from './affine-hull.ts';
import { dot } from './limits.ts';
import { isAllowed, type Region } from './region.ts';

/**
 * Distance of a mix from the boundary, in shares (Euclidean, within the affine hull): how far it may be moved in
 * any allowed direction. Negative outside: minus the distance to the bound that is missed by most.
 */
export function distanceToBoundary(region: Region, shares: readonly number[]): number {
  if (region.dimension === 0) return isAllowed(region, shares) ? 0 : Number.NEGATIVE_INFINITY;
  const distances = region.facets.map(({ limit }) => {
    const along = region.basis.map((b) => dot(limit.coefficients, b));
    return (dot(limit.coefficients, shares) - limit.at) / Math.sqrt(dot(along, along));
  });
  return Math.min(...distances);
}

/** The ends of Cox's direction of one component: mixes, and the share of that component in each. */
export interface CoxRange {
  direction: readonly number[];
  low: number;
  high: number;
}

/**
 * How far one share can change while the others keep their ratios to each other (Cox 1971), from a reference mix,
 * within all bounds. Null where the region has no room that way.
 *
 * @param reference default the centroid.
 */
export function coxRange(
  region: Region,
  component: number,
  reference: readonly number[] = region.centroid,
): CoxRange | null {
  const others = 1 - reference[component]!;
  if (!(others > 1e-12)) return null;
  const direction = reference.map((share, i) => (i === component ? 1 : -share / others));
  if (!inHull(region, direction)) return null;
  let from = Number.NEGATIVE_INFINITY;
  let to = Number.POSITIVE_INFINITY;
  for (const { limit } of region.facets) {
    const along = dot(limit.coefficients, direction);
    const slack = Math.max(0, dot(limit.coefficients, reference) - limit.at);
    if (along > 1e-14) from = Math.max(from, -slack / along);
    else if (along < -1e-14) to = Math.min(to, -slack / along);
  }
  if (!(to > from)) return null;
  return { direction, low: reference[component]! + from, high: reference[component]! + to };
}

function inHull(region: Region, direction: readonly number[]): boolean {
  const width = region.high.map((h, i) => h - region.low[i]!);
  if (direction.some((v, i) => width[i] === 0 && Math.abs(v) > 1e-12)) return false;
  const scale = (v: readonly number[]) => v.map((c, i) => (width[i]! > 0 ? c / width[i]! : 0));
  const scaled = scale(direction);
  const rest = removeSpan(scaled, spanOf(region.frame.map(scale)));
  return dot(rest, rest) <= 1e-16 * dot(scaled, scaled);
}
