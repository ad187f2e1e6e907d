import type { BlendSpace } from '../../../engine/region/blend-space.ts';
import { type Point, type Three, type TriangleFrame, toPoint, toShares } from './plane.ts';

/** The part of the allowed region where all components but three stay as they are in one mix. */
export interface Slice {
  frame: TriangleFrame;
  /** Outline of what is allowed, counter-clockwise in the picture; empty where the slice misses the region. */
  outline: Point[];
}

/** coefficients · (top, left, right) ≤ limit. */
interface HalfPlane {
  coefficients: Three;
  limit: number;
}

/**
 * Cuts the allowed region along a plane: components `three` share what the others, held at `shares`, leave.
 * @param three indices of the top, left and right component
 * @param shares a mix, all components in order; its own three shares only set how much is left to share
 */
export function sliceRegion(
  space: BlendSpace,
  three: readonly [number, number, number],
  shares: readonly number[],
): Slice {
  const held = shares.map((share, i) => (three.includes(i) ? 0 : share));
  const left = 1 - held.reduce((sum, share) => sum + share, 0);
  const whole: TriangleFrame = { lows: [0, 0, 0], size: left };
  let outline: Three[] = [
    [left, 0, 0],
    [0, left, 0],
    [0, 0, left],
  ];
  if (left <= 0) return { frame: whole, outline: [] };
  for (const half of halfPlanes(space, three, held)) outline = clip(outline, half);
  if (outline.length < 3) return { frame: whole, outline: [] };
  const lows: Three = [0, 1, 2].map((c) => Math.min(...outline.map((p) => p[c]!))) as unknown as Three;
  const frame = { lows, size: left - lows[0] - lows[1] - lows[2] };
  if (frame.size <= 1e-9) return { frame: whole, outline: [] };
  return { frame, outline: counterClockwise(outline.map((p) => toPoint(frame, p))) };
}

function halfPlanes(space: BlendSpace, three: readonly number[], held: readonly number[]): HalfPlane[] {
  const planes: HalfPlane[] = [];
  three.forEach((component, c) => {
    const { low, high } = space.components[component]!;
    const unit = [0, 1, 2].map((at) => (at === c ? 1 : 0)) as unknown as Three;
    planes.push({ coefficients: unit, limit: high }, { coefficients: negative(unit), limit: -low });
  });
  for (const { of, least, most } of space.bounds) {
    const all = space.components.map(({ id }) => (Object.hasOwn(of, id) ? of[id]! : 0));
    const used = all.reduce((sum, coefficient, i) => sum + coefficient * held[i]!, 0);
    const coefficients = three.map((component) => all[component]!) as unknown as Three;
    if (most !== undefined) planes.push({ coefficients, limit: most - used });
    if (least !== undefined) planes.push({ coefficients: negative(coefficients), limit: used - least });
  }
  return planes;
}

function negative([a, b, c]: Three): Three {
  return [-a, -b, -c];
}

/** Sutherland and Hodgman 1974, against one half-plane. */
function clip(polygon: readonly Three[], { coefficients, limit }: HalfPlane): Three[] {
  const over = (p: Three) => coefficients[0] * p[0] + coefficients[1] * p[1] + coefficients[2] * p[2] - limit;
  const kept: Three[] = [];
  polygon.forEach((p, i) => {
    const next = polygon[(i + 1) % polygon.length]!;
    const here = over(p);
    const there = over(next);
    if (here <= 1e-12) kept.push(p);
    if ((here < -1e-12 && there > 1e-12) || (here > 1e-12 && there < -1e-12))
      kept.push(between(p, next, here / (here - there)));
  });
  return kept;
}

function between(p: Three, q: Three, t: number): Three {
  return [p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1]), p[2] + t * (q[2] - p[2])];
}

function counterClockwise(points: Point[]): Point[] {
  const area = points.reduce((sum, [x, y], i) => {
    const [u, v] = points[(i + 1) % points.length]!;
    return sum + x * v - u * y;
  }, 0);
  return area < 0 ? points.reverse() : points;
}

/** Shares of all components at a point of the slice. */
export function sharesAt(
  frame: TriangleFrame,
  three: readonly [number, number, number],
  held: readonly number[],
  point: Point,
): number[] {
  const own = toShares(frame, point);
  return held.map((share, i) => {
    const at = three.indexOf(i);
    return at < 0 ? share : own[at]!;
  });
}
