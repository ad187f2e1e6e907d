import type { Random } from '../numeric/random.ts';
import { faceCentroids, facetCentroids } from '../region/centres.ts';
import type { Region } from '../region/region.ts';

const MOST_CORNERS = 600;
const MOST_OF_A_KIND = 400;

/**
 * Blends worth considering: corners, middles of edges, centroids of faces and of the whole, points half-way from
 * the centroid to the corners. Where there are many, a seeded choice of each kind.
 *
 * @param parts where on an edge candidates lie, from 0 to 1
 */
export function candidateBlends(region: Region, parts: readonly number[], random: Random): number[][] {
  const { points, edges } = region.corners;
  const corners = choose(points, MOST_CORNERS, random);
  const chosen = choose(edges, MOST_OF_A_KIND, random);
  return distinct([
    ...corners,
    region.centroid,
    ...chosen.flatMap(([a, b]) => parts.map((t) => between(points[a]!, points[b]!, t))),
    ...facetCentroids(region),
    ...choose(faceCentroids(region, 300), MOST_OF_A_KIND / 2, random),
    ...choose(corners, MOST_OF_A_KIND / 2, random).map((corner) => between(corner, region.centroid, 0.5)),
  ]);
}

function choose<T>(items: readonly T[], most: number, random: Random): readonly T[] {
  return items.length <= most ? items : random.shuffle(items).slice(0, most);
}

function between(a: readonly number[], b: readonly number[], t: number): number[] {
  return a.map((v, i) => v + t * (b[i]! - v));
}

function distinct(points: readonly (readonly number[])[]): number[][] {
  const seen = new Map<string, number[]>();
  for (const point of points) {
    const key = point.map((v) => v.toPrecision(10)).join();
    if (!seen.has(key)) seen.set(key, [...point]);
  }
  return [...seen.values()];
}
