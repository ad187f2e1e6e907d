import { innerProduct } from '../numeric/dense.ts';
import type { Region } from './region.ts';

/** Widths below this count as none. */
export const NO_WIDTH = 1e-12;

/**
 * The mix reached from `start` when one share becomes `to` and the others keep their ratios to each other (Cox's
 * direction; Cox 1971, Biometrika 58, 155-159). Null where there are no others.
 */
export function alongCox(start: readonly number[], component: number, to: number): number[] | null {
  const others = 1 - start[component]!;
  if (!(others > NO_WIDTH)) return null;
  return start.map((share, j) => (j === component ? to : (share * (1 - to)) / others));
}

/**
 * Points of a screening design: for each component the highest and the lowest place on Cox's direction through the
 * centroid that the region allows, the place half-way from the centroid to the highest, and the centroid. On the
 * whole simplex these are the vertices, end points, interior points and centroid of the simplex screening design,
 * 3q + 1 in all (Snee and Marquardt 1976, Technometrics 18, 19-29).
 */
export function screeningPoints(region: Region): number[][] {
  const { centroid } = region;
  const ends = centroid.map((share, i) => {
    const step = alongCox(centroid, i, share + 1)?.map((v, j) => v - centroid[j]!);
    return step === undefined ? null : { i, share, ...rangeAlong(region, centroid, step) };
  });
  const moving = ends.filter((end) => end !== null && end.to - end.from > NO_WIDTH);
  const at = (part: (end: { from: number; to: number }) => number) =>
    moving.map((end) => alongCox(centroid, end!.i, end!.share + part(end!))!);
  return [...at(({ to }) => to), ...at(({ from }) => from), ...at(({ to }) => to / 2), [...centroid]];
}

/** How far one may go from a point inside along a direction: none where that leaves a flat region. */
function rangeAlong(
  region: Region,
  from: readonly number[],
  step: readonly number[],
): { from: number; to: number } {
  if (region.equalities.some(({ coefficients }) => Math.abs(innerProduct(coefficients, step)) > 1e-12))
    return { from: 0, to: 0 };
  let [back, ahead] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  for (const { limit } of region.facets) {
    const along = innerProduct(limit.coefficients, step);
    const slack = Math.max(0, innerProduct(limit.coefficients, from) - limit.at);
    if (along > 1e-13) back = Math.max(back, -slack / along);
    else if (along < -1e-13) ahead = Math.min(ahead, -slack / along);
  }
  return Number.isFinite(back) && Number.isFinite(ahead) ? { from: back, to: ahead } : { from: 0, to: 0 };
}
