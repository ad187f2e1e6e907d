import type { Mesh } from './mesh.ts';
import type { Point } from './plane.ts';

/** A corner of a piece: where it is, and its name, so that neighbours know that they share it. */
interface Corner {
  key: string;
  point: Point;
  value: number;
}

/** Where a surface lies between two values: rings whose non-zero fill is the area, holes turning the other way. */
export interface Band {
  low: number;
  high: number;
  rings: Point[][];
}

/**
 * Cuts a surface known at the points of a mesh into bands between levels: each triangle is clipped at both levels
 * (values run straight along its sides), edges shared by neighbours cancel, what is left is chained to rings.
 * @param values one a point; the surface is not extended beyond the mesh
 */
export function bandsOf(mesh: Mesh, values: readonly number[], levels: readonly number[]): Band[] {
  return levels.slice(1).flatMap((high, i) => {
    const low = levels[i]!;
    const rings = ringsOf(piecesBetween(mesh, values, low, high));
    return rings.length > 0 ? [{ low, high, rings }] : [];
  });
}

/** The convex pieces, a triangle each, where the surface lies between two values. */
export function piecesBetween(mesh: Mesh, values: readonly number[], low: number, high: number): Corner[][] {
  return mesh.triangles
    .map((triangle) =>
      triangle.map((i): Corner => ({ key: String(i), point: mesh.points[i]!, value: values[i]! })),
    )
    .map((corners) => clipAbove(clipAbove(corners, low, 1), high, -1))
    .filter((piece) => piece.length >= 3);
}

/** Keeps the part of a piece where sign · value ≥ sign · level. */
function clipAbove(piece: readonly Corner[], level: number, sign: 1 | -1): Corner[] {
  if (!Number.isFinite(level)) return [...piece];
  const kept: Corner[] = [];
  piece.forEach((corner, i) => {
    const next = piece[(i + 1) % piece.length]!;
    const here = sign * (corner.value - level);
    const there = sign * (next.value - level);
    if (here >= 0) kept.push(corner);
    if (here * there < 0) kept.push(crossing(corner, next, level));
  });
  return kept;
}

/** Where a level crosses the side between two corners, reckoned the same way from either end. */
function crossing(p: Corner, q: Corner, level: number): Corner {
  const [a, b] = p.key < q.key ? [p, q] : [q, p];
  const t = (level - a.value) / (b.value - a.value);
  const point: Point = [
    a.point[0] + t * (b.point[0] - a.point[0]),
    a.point[1] + t * (b.point[1] - a.point[1]),
  ];
  return { key: `${a.key}|${b.key}@${level}`, point, value: level };
}

/** Outlines of pieces put together. */
export function ringsOf(pieces: readonly (readonly Corner[])[]): Point[][] {
  const points = new Map<string, Point>();
  const edges = new Map<string, string[]>();
  for (const piece of pieces)
    piece.forEach((corner, i) => {
      const next = piece[(i + 1) % piece.length]!;
      points.set(corner.key, corner.point);
      if (corner.key !== next.key && !cancel(edges, next.key, corner.key)) push(edges, corner.key, next.key);
    });
  return chain(edges).map((keys) => keys.map((key) => points.get(key)!));
}

function push(edges: Map<string, string[]>, from: string, to: string): void {
  const known = edges.get(from);
  if (known) known.push(to);
  else edges.set(from, [to]);
}

/** Takes the edge away if it is there. */
function cancel(edges: Map<string, string[]>, from: string, to: string): boolean {
  const ends = edges.get(from);
  const at = ends?.indexOf(to) ?? -1;
  if (ends === undefined || at < 0) return false;
  ends.splice(at, 1);
  if (ends.length === 0) edges.delete(from);
  return true;
}

function chain(edges: Map<string, string[]>): string[][] {
  const rings: string[][] = [];
  while (edges.size > 0) {
    const [start] = edges.keys();
    const ring: string[] = [];
    let at = start!;
    do {
      ring.push(at);
      const ends = edges.get(at);
      if (ends === undefined) break;
      const next = ends.pop()!;
      if (ends.length === 0) edges.delete(at);
      at = next;
    } while (at !== start);
    if (ring.length >= 3) rings.push(ring);
  }
  return rings;
}

/** Strokes across convex pieces at a slant, for hatching: the lines y - slope · x = k · gap. */
export function hatch(pieces: readonly (readonly Corner[])[], gap: number, slope: number): [Point, Point][] {
  return pieces.flatMap((piece) => {
    const height = ({ point: [x, y] }: Corner) => (y - slope * x) / gap;
    const heights = piece.map(height);
    const strokes: [Point, Point][] = [];
    for (let k = Math.ceil(Math.min(...heights)); k <= Math.max(...heights); k++) {
      const ends = crossingsAt(piece, heights, k);
      if (ends.length === 2) strokes.push([ends[0]!, ends[1]!]);
    }
    return strokes;
  });
}

function crossingsAt(piece: readonly Corner[], heights: readonly number[], k: number): Point[] {
  return piece.flatMap((corner, i): Point[] => {
    const j = (i + 1) % piece.length;
    const here = heights[i]! - k;
    const there = heights[j]! - k;
    if (here < 0 === there < 0) return [];
    const t = here / (here - there);
    const [x, y] = corner.point;
    const [u, v] = piece[j]!.point;
    return [[x + t * (u - x), y + t * (v - y)]];
  });
}
