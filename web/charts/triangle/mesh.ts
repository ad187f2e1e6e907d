import type { Point } from './plane.ts';

/** A polygon cut into small triangles. Corners of triangles are indices of points. */
export interface Mesh {
  points: Point[];
  triangles: (readonly [number, number, number])[];
}

/**
 * Covers a convex polygon exactly: a fan about its middle, each slice of the fan cut into n² triangles. Every point
 * lies in the polygon, so nothing outside what is allowed is ever asked for.
 * @returns 1 + sides · n(n+1)/2 points
 */
export function meshPolygon(outline: readonly Point[], n: number): Mesh {
  const sides = outline.length;
  const points: Point[] = [middleOf(outline)];
  const index = new Map<string, number>([['0,0,0', 0]]);
  /** The point at ring r, slice s, step t along the ring; the end of a slice is the start of the next. */
  const at = (ring: number, slice: number, step: number): number => {
    const key =
      ring === 0 ? '0,0,0' : step === ring ? `${ring},${(slice + 1) % sides},0` : `${ring},${slice},${step}`;
    const known = index.get(key);
    if (known !== undefined) return known;
    const [x, y] = points[0]!;
    const from = outline[slice]!;
    const to = outline[(slice + 1) % sides]!;
    const a = (ring - step) / n;
    const b = step / n;
    points.push([x + a * (from[0] - x) + b * (to[0] - x), y + a * (from[1] - y) + b * (to[1] - y)]);
    index.set(key, points.length - 1);
    return points.length - 1;
  };
  const triangles: Mesh['triangles'] = [];
  for (let slice = 0; slice < sides; slice++)
    for (let ring = 0; ring < n; ring++)
      for (let step = 0; step <= ring; step++) {
        triangles.push([at(ring, slice, step), at(ring + 1, slice, step), at(ring + 1, slice, step + 1)]);
        if (step < ring)
          triangles.push([at(ring, slice, step), at(ring + 1, slice, step + 1), at(ring, slice, step + 1)]);
      }
  return { points, triangles };
}

/** How fine a mesh may be so that it has at most so many points. */
export function finenessFor(sides: number, most: number): number {
  let n = 1;
  while (1 + (sides * (n + 1) * (n + 2)) / 2 <= most) n += 1;
  return n;
}

function middleOf(outline: readonly Point[]): Point {
  const x = outline.reduce((sum, point) => sum + point[0], 0) / outline.length;
  const y = outline.reduce((sum, point) => sum + point[1], 0) / outline.length;
  return [x, y];
}
