import { spanOf } from './affine-hull.ts';
import { type Region, toFrame } from './region.ts';

/**
 * The mean of the corners of every two-dimensional face (McLean and Anderson 1966 take these beside corners and the
 * overall centroid): faces are found from pairs of edges that meet in a corner.
 *
 * @param most corners of the region beyond which none are listed, default 2,000.
 */
export function faceCentroids(region: Region, most = 2000): number[][] {
  const { points, edges, facets } = region.corners;
  if (region.dimension < 2 || points.length > most) return [];
  const meets = points.map((): number[] => []);
  for (const [a, b] of edges) {
    meets[a]!.push(b);
    meets[b]!.push(a);
  }
  const seen = new Set<string>();
  const centroids: number[][] = [];
  const onFacet = region.facets.map(
    (_, f) => new Set(points.flatMap((_, v) => (facets[v]!.includes(f) ? [v] : []))),
  );
  meets.forEach((neighbours, v) => {
    for (let i = 0; i < neighbours.length; i++)
      for (let j = i + 1; j < neighbours.length; j++) {
        const common = facets[v]!.filter(
          (f) => onFacet[f]!.has(neighbours[i]!) && onFacet[f]!.has(neighbours[j]!),
        );
        if (common.length < region.dimension - 2 || seen.has(common.join())) continue;
        seen.add(common.join());
        const corners = points.filter((_, w) => common.every((f) => onFacet[f]!.has(w)));
        if (dimensionOf(region, corners) === 2) centroids.push(meanOf(corners));
      }
  });
  return centroids;
}

function dimensionOf(region: Region, points: readonly (readonly number[])[]): number {
  const frame = points.map((p) => toFrame(region, p));
  const edges = frame.slice(1).map((y) => y.map((v, k) => v - frame[0]![k]!));
  return edges.length === 0 ? 0 : spanOf(edges).length;
}

/** The mean of the corners on each facet that has more than two. */
export function facetCentroids(region: Region): number[][] {
  const on = region.facets.map((): number[][] => []);
  region.corners.points.forEach((point, v) => {
    for (const f of region.corners.facets[v]!) on[f]!.push(point);
  });
  return on.filter((corners) => corners.length > 2).map(meanOf);
}

export function meanOf(points: readonly (readonly number[])[]): number[] {
  return points[0]!.map((_, i) => points.reduce((sum, p) => sum + p[i]!, 0) / points.length);
}
