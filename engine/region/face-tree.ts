import { innerProduct } from '../numeric/dense.ts';
import { removeSpan } from './affine-hull.ts';
import { type Region, toFrame } from './region.ts';

/** A face as the union of pyramids from one of its corners over the facets of the face that do not hold it. */
interface Face {
  corners: readonly number[];
  dimension: number;
  /** Faces under the apex `corners[0]`; empty for a simplex. */
  bases: readonly Face[];
  /** Running shares of the pyramids in the face's volume, ending in 1. */
  running: Float64Array;
  volume: number;
  /** Number of simplices below. */
  simplices: number;
}

/** A region cut into pyramids over its faces, each face once, so that its volume and uniform points are exact. */
export interface FaceTree {
  root: Face;
  faces: number;
}

interface Builder {
  region: Region;
  frame: number[][];
  known: Map<string, Face>;
  work: number;
  mostWork: number;
}

/**
 * Cuts a region into pyramids (Cohen and Hickey 1979), keeping each face once (Büeler, Enge and Fukuda 2000).
 *
 * @param mostWork counted visits of corners, default 12 million. @returns null past that, or where the corners
 * are only a sample.
 */
export function buildFaceTree(region: Region, mostWork = 12e6): FaceTree | null {
  if (!region.corners.complete || region.dimension === 0) return null;
  const frame = region.corners.points.map((p) => toFrame(region, p));
  const builder = { region, frame, known: new Map<string, Face>(), work: 0, mostWork };
  const root = faceOf(
    builder,
    frame.map((_, v) => v),
    region.dimension,
  );
  return root === null ? null : { root, faces: builder.known.size };
}

function faceOf(builder: Builder, corners: readonly number[], dimension: number): Face | null {
  const key = corners.join();
  const known = builder.known.get(key);
  if (known) return known;
  const face =
    corners.length === dimension + 1
      ? simplexFace(builder, corners, dimension)
      : cutFace(builder, corners, dimension);
  if (face !== null) builder.known.set(key, face);
  return face;
}

function simplexFace({ frame }: Builder, corners: readonly number[], dimension: number): Face {
  const basis: number[][] = [];
  let volume = 1;
  for (let k = 1; k <= dimension; k++) {
    const edge = frame[corners[k]!]!.map((v, i) => v - frame[corners[0]!]![i]!);
    const rest = removeSpan(edge, basis);
    const length = Math.sqrt(innerProduct(rest, rest));
    volume *= length / k;
    if (length > 0) basis.push(rest.map((v) => v / length));
  }
  return { corners, dimension, bases: [], running: Float64Array.of(1), volume, simplices: 1 };
}

function cutFace(builder: Builder, corners: readonly number[], dimension: number): Face | null {
  const apex = corners[0]!;
  const bases: Face[] = [];
  const volumes: number[] = [];
  for (const section of facetsOf(builder, corners)) {
    if (section.includes(apex)) continue;
    const base = builder.work > builder.mostWork ? null : faceOf(builder, section, dimension - 1);
    if (base === null) return null;
    bases.push(base);
    volumes.push((base.volume * heightOver(builder, base, apex)) / dimension);
  }
  const volume = volumes.reduce((a, b) => a + b, 0);
  const running = new Float64Array(volumes.length);
  volumes.forEach((v, b) => {
    running[b] = (b > 0 ? running[b - 1]! : 0) + v / volume;
  });
  running[running.length - 1] = 1;
  const simplices = bases.reduce((count, base) => count + base.simplices, 0);
  return { corners, dimension, bases, running, volume, simplices };
}

/** The facets of a face: the largest of its proper sections with the facets of the region. */
function facetsOf(builder: Builder, face: readonly number[]): number[][] {
  const { region } = builder;
  const on = region.facets.map((): number[] => []);
  for (const v of face) for (const f of region.corners.facets[v]!) on[f]!.push(v);
  builder.work += face.length * 8;
  const sections = [
    ...new Map(on.filter((s) => s.length > 0 && s.length < face.length).map((s) => [s.join(), s])).values(),
  ].sort((a, b) => b.length - a.length);
  const largest: { corners: number[]; set: Set<number> }[] = [];
  for (const section of sections)
    if (!largest.some(({ set }) => section.every((v) => set.has(v))))
      largest.push({ corners: section, set: new Set(section) });
  return largest.map(({ corners }) => corners);
}

/** Distance of a corner from the affine hull of a face. */
function heightOver({ frame }: Builder, base: Face, apex: number): number {
  const origin = frame[base.corners[0]!]!;
  const basis: number[][] = [];
  for (let k = 1; k < base.corners.length && basis.length < base.dimension; k++) {
    const edge = frame[base.corners[k]!]!.map((v, i) => v - origin[i]!);
    const rest = removeSpan(edge, basis);
    const length = Math.sqrt(innerProduct(rest, rest));
    if (length > 1e-7 * Math.sqrt(innerProduct(edge, edge))) basis.push(rest.map((v) => v / length));
  }
  const rest = removeSpan(
    frame[apex]!.map((v, i) => v - origin[i]!),
    basis,
  );
  return Math.sqrt(innerProduct(rest, rest));
}

/** Calls with the corners and the share of the volume of each simplex. */
export function visitSimplices(
  tree: FaceTree,
  use: (corners: readonly number[], volume: number) => void,
): void {
  const descend = (face: Face, above: readonly number[], share: number): void => {
    if (face.bases.length === 0) use([...above, ...face.corners], share);
    face.bases.forEach((base, b) => {
      const part = face.running[b]! - (b > 0 ? face.running[b - 1]! : 0);
      descend(base, [...above, face.corners[0]!], share * part);
    });
  };
  descend(tree.root, [], 1);
}

/** How many numbers in 0..1 `uniformPoint` takes. */
export function numbersNeeded(region: Region): number {
  return 2 * region.dimension;
}

/**
 * Maps numbers uniform in the unit cube to a point uniform in the region: in each face the pyramid is chosen by
 * volume and the distance from its apex by t = u^(1/dimension), then the same in its base.
 */
export function uniformPoint(
  region: Region,
  tree: FaceTree,
  u: ArrayLike<number>,
  shares: Float64Array,
): void {
  shares.fill(0);
  let left = 1;
  let next = 0;
  let face = tree.root;
  while (face.bases.length > 0) {
    const t = u[next]! ** (1 / face.dimension);
    addCorner(region, face.corners[0]!, left * (1 - t), shares);
    left *= t;
    face = face.bases[place(face.running, u[next + 1]!)]!;
    next += 2;
  }
  for (let k = 0; k < face.dimension; k++) {
    const t = u[next + k]! ** (1 / (face.dimension - k));
    addCorner(region, face.corners[k]!, left * (1 - t), shares);
    left *= t;
  }
  addCorner(region, face.corners[face.dimension]!, left, shares);
}

function addCorner(region: Region, corner: number, part: number, shares: Float64Array): void {
  const point = region.corners.points[corner]!;
  for (let i = 0; i < shares.length; i++) shares[i] = shares[i]! + part * point[i]!;
}

function place(running: Float64Array, u: number): number {
  let low = 0;
  let high = running.length - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (running[middle]! > u) high = middle;
    else low = middle + 1;
  }
  return low;
}
