import { EngineError } from '../errors.ts';
import type { Region } from '../region/region.ts';

/** Published sets of points on a simplex. */
export const POINT_SETS = ['lattice', 'centroid', 'axial'] as const;
export type PointSet = (typeof POINT_SETS)[number];

/**
 * The points of a published set, carried onto a region that is a simplex by its corners:
 * `lattice` all blends in halves of the corners, {q, 2} (Scheffé 1958); `centroid` the mean of every subset of the
 * corners, 2^q - 1 of them (Scheffé 1963); `axial` the corners, the centroid and the points midway between it and
 * each corner (Cornell 2002, section 2.14).
 *
 * @throws EngineError `bad-argument` where the region is no simplex
 */
export function simplexPoints(region: Region, set: PointSet): number[][] {
  const corners = region.corners.points;
  if (corners.length !== region.dimension + 1)
    throw new EngineError(
      'bad-argument',
      'points',
      set,
      `a region with ${region.dimension + 1} corners, one more than it has directions; this one has ${corners.length}`,
    );
  return weightsOf(corners.length, set).map((weights) =>
    corners[0]!.map((_, i) => corners.reduce((sum, corner, c) => sum + weights[c]! * corner[i]!, 0)),
  );
}

function weightsOf(q: number, set: PointSet): number[][] {
  if (set === 'lattice') return latticeWeights(q, 2);
  if (set === 'centroid') return centroidWeights(q);
  const middle = new Array<number>(q).fill(1 / q);
  const corners = latticeWeights(q, 1);
  return [...corners, middle, ...corners.map((corner) => corner.map((w, c) => (w + middle[c]!) / 2))];
}

/** The {q, m} lattice: every weight a multiple of 1/m. */
export function latticeWeights(q: number, m: number): number[][] {
  const compositions = (parts: number, total: number): number[][] =>
    parts === 1
      ? [[total]]
      : Array.from({ length: total + 1 }, (_, k) => total - k).flatMap((first) =>
          compositions(parts - 1, total - first).map((rest) => [first, ...rest]),
        );
  return compositions(q, m).map((steps) => steps.map((step) => step / m));
}

/** Equal parts of every subset. */
function centroidWeights(q: number): number[][] {
  return Array.from({ length: 2 ** q - 1 }, (_, k) => k + 1)
    .map((subset) => Array.from({ length: q }, (_, c) => (subset >> c) & 1))
    .map((inside) => {
      const size = inside.reduce((sum, one) => sum + one, 0);
      return inside.map((one) => one / size);
    })
    .sort((a, b) => Math.max(...b) - Math.max(...a));
}
