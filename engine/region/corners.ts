import { innerProduct } from '../numeric/dense.ts';
import type { Random } from '../numeric/random.ts';
import { extremeRays } from './double-description.ts';
import type { Corners, Facet, RegionBody } from './region.ts';
import { slackOf, toFrame, toShares } from './region.ts';
import type { ShareProgram } from './share-program.ts';
import { solveTight } from './tight-rows.ts';

interface CornerOptions {
  /** Counted comparisons; default 400 million, a few seconds. */
  workLimit?: number | undefined;
  /** Most corners that are listed before a sample is drawn instead; default 20,000. */
  most?: number | undefined;
  program: ShareProgram;
  random: Random;
}

const WORK = 4e8;
const MOST = 20_000;
/** Corners nearer than this, relative to the size of the region, are one. */
const SAME = 1e-9;
const SAMPLED = 600;

/** All corners of a region, or, past the counted work limit, a seeded sample of them that says so. */
export function findCorners(region: RegionBody, options: CornerOptions): Corners {
  const { workLimit = WORK, most = MOST, program, random } = options;
  if (region.dimension === 0)
    return { points: [[...region.inner]], edges: [], facets: [[]], complete: true, work: 0 };
  const rows = region.facets.map(({ slope, inner }) => unitRow([...slope, inner]));
  const cone = extremeRays(rows, { work: workLimit, rays: 3 * most });
  if (cone === null || cone.rays.length > most) return sampleCorners(region, program, random);
  const d = region.dimension;
  const points = cone.rays.map((ray, v) => {
    const y = Array.from({ length: d }, (_, k) => ray[k]! / ray[d]!);
    return sharpen(
      region,
      toShares(region, y),
      region.facets.filter((_, f) => bit(cone.tight[v]!, f)),
    );
  });
  return { ...mergeSame(region, points, cone.edges), complete: true, work: cone.work };
}

function unitRow(row: readonly number[]): Float64Array {
  const length = Math.sqrt(innerProduct(row, row));
  return Float64Array.from(row, (v) => v / length);
}

function bit(bits: Uint32Array, index: number): boolean {
  return ((bits[index >>> 5]! >>> (index & 31)) & 1) === 1;
}

/** Moves a corner onto its limits exactly: one solution of the tight rows, then shares at a low or high as given. */
function sharpen(region: RegionBody, shares: number[], facets: readonly Facet[]): number[] {
  const limits = [...region.equalities, ...facets.map(({ limit }) => limit)];
  const moved = solveTight(limits, shares, region.low, region.high);
  for (const { kind, index, at } of limits) {
    if (kind === 'low') moved[index] = at;
    else if (kind === 'high') moved[index] = -at;
  }
  return moved;
}

/** Sorts corners by their shares and makes one of those that rounding has told apart. */
function mergeSame(
  region: RegionBody,
  points: number[][],
  edges: readonly [number, number][],
): Omit<Corners, 'complete' | 'work'> {
  const order = points.map((_, v) => v).sort((a, b) => compare(points[a]!, points[b]!));
  const frame = points.map((p) => toFrame(region, p));
  const kept: number[] = [];
  const place = new Int32Array(points.length);
  for (const v of order) {
    const same = kept.findLastIndex((_, k) => k >= kept.length - 50 && near(frame[kept[k]!]!, frame[v]!));
    if (same < 0) kept.push(v);
    place[v] = same < 0 ? kept.length - 1 : same;
  }
  const joined = new Map<string, [number, number]>();
  for (const [a, b] of edges) {
    const pair: [number, number] = place[a]! < place[b]! ? [place[a]!, place[b]!] : [place[b]!, place[a]!];
    if (pair[0] !== pair[1]) joined.set(pair.join(), pair);
  }
  const chosen = kept.map((v) => points[v]!);
  return {
    points: chosen,
    edges: [...joined.values()].sort((x, y) => x[0] - y[0] || x[1] - y[1]),
    facets: chosen.map((p) => facetsAt(region, p)),
  };
}

function facetsAt(region: RegionBody, point: readonly number[]): number[] {
  return region.facets.flatMap((facet, f) => (Math.abs(slackOf(facet, point)) <= SAME ? [f] : []));
}

function compare(a: readonly number[], b: readonly number[]): number {
  for (let i = 0; i < a.length; i++) if (Math.abs(a[i]! - b[i]!) > 1e-13) return a[i]! - b[i]!;
  return 0;
}

function near(a: readonly number[], b: readonly number[]): boolean {
  return a.every((v, k) => Math.abs(v - b[k]!) <= SAME);
}

/** Corners that linear programs in random directions reach; directions are uniform in the region's own frame. */
function sampleCorners(region: RegionBody, program: ShareProgram, random: Random): Corners {
  const points: number[][] = [];
  const seen = new Set<string>();
  for (let k = 0; k < SAMPLED; k++) {
    const direction = region.inverse.map(() => random.normal());
    const objective = region.inner.map((_, i) =>
      region.inverse.reduce((sum, row, j) => sum + row[i]! * direction[j]!, 0),
    );
    const rough = program.extreme(objective, 'maximise');
    const facets = region.facets.filter((facet) => Math.abs(slackOf(facet, rough)) <= SAME);
    const point = sharpen(region, rough, facets);
    const key = toFrame(region, point)
      .map((v) => v.toFixed(8))
      .join();
    if (!seen.has(key)) points.push(point);
    seen.add(key);
  }
  const sorted = points.sort(compare);
  return {
    points: sorted,
    edges: [],
    facets: sorted.map((p) => facetsAt(region, p)),
    complete: false,
    work: 0,
  };
}
