import { spanOf } from '../region/affine-hull.ts';
import type { Region } from '../region/region.ts';

const MOST = 60;

/**
 * Directions in which a blend is moved during the search: those of the region's edges, most frequent first, so
 * that a point on the boundary can move along it; then those of the region's frame.
 */
export function searchDirections(region: Region): number[][] {
  const { points, edges } = region.corners;
  const found = new Map<string, { direction: number[]; count: number }>();
  for (const [a, b] of edges) {
    const direction = unitStep(region, points[a]!, points[b]!);
    const key = direction.map((v) => v.toFixed(7)).join();
    const known = found.get(key);
    if (known) known.count++;
    else found.set(key, { direction, count: 1 });
  }
  const common = [...found.values()]
    .sort((x, y) => y.count - x.count)
    .slice(0, MOST)
    .map(({ direction }) => direction);
  const frame = spanOf([...region.frame]).length > 0 ? region.frame.map((f) => [...f]) : [];
  return [...common, ...frame];
}

/** From one corner to another, signed so that the first moving component grows, longest share change 1. */
function unitStep(region: Region, a: readonly number[], b: readonly number[]): number[] {
  const step = a.map((v, i) => (Math.abs(b[i]! - v) < 1e-10 * (region.high[i]! || 1) ? 0 : b[i]! - v));
  const largest = step.reduce((m, v) => (Math.abs(v) > Math.abs(m) ? v : m), 0);
  const sign = Math.sign(step.find((v) => v !== 0) ?? 1);
  return step.map((v) => (sign * v) / Math.abs(largest || 1));
}
