import type { BlendSpace } from '../../../engine/region/blend-space.ts';
import { toBlendSpace } from '../../../trials/schema/engine-shapes.ts';
import { finenessFor, type Mesh, meshPolygon } from '../../charts/triangle/mesh.ts';
import { type Slice, sharesAt, sliceRegion } from '../../charts/triangle/slice.ts';
import type { TriangleMix } from '../../charts/triangle/triangle-chart.ts';
import type { PredictResult } from '../results.ts';
import type { ReadingView, WeighedMix } from './reading-view.ts';

/** Which triangle is looked at. */
export interface TriangleChoice {
  attribute: string;
  /** Indices of the top, left and right component. */
  three: readonly [number, number, number];
  /** Name of the mix that the slice runs through. */
  through: string;
}

/** A slice ready to be asked about. */
export interface AskedSlice {
  slice: Slice;
  mesh: Mesh;
  /** All shares at each point of the mesh. */
  rows: { ratios: Record<string, number>; settings: Record<string, number> }[];
}

/** At most so many points are asked for at once. */
const MOST = 480;

/** Lays a mesh over the allowed part of a slice; null where the slice misses what is allowed. */
export function askedSlice(view: ReadingView, { three }: TriangleChoice, mix: WeighedMix): AskedSlice | null {
  const space: BlendSpace = toBlendSpace(view.trial.brief);
  const slice = sliceRegion(space, three, mix.shares);
  if (slice.outline.length < 3) return null;
  const mesh = meshPolygon(slice.outline, finenessFor(slice.outline.length, MOST));
  const ids = view.trial.brief.components.map(({ id }) => id);
  const rows = mesh.points.map((point) => {
    const shares = sharesAt(slice.frame, three, mix.shares, point);
    return { ratios: Object.fromEntries(ids.map((id, i) => [id, shares[i]!])), settings: mix.settings };
  });
  return { slice, mesh, rows };
}

/** One attribute over the mesh: predicted scores and half their intervals, where all are known. */
export function surfaceOf(
  predicted: PredictResult,
  attribute: string,
): { means: number[]; halfWidths: number[] } | null {
  const found = predicted.rows.map(({ attributes }) => attributes.find(({ id }) => id === attribute));
  if (found.some((one) => one?.mean === null || one === undefined)) return null;
  return {
    means: found.map((one) => one!.mean!),
    halfWidths: found.map((one) =>
      one!.interval ? (one!.interval[1] - one!.interval[0]) / 2 : Number.POSITIVE_INFINITY,
    ),
  };
}

/** All weighed mixes as the triangle shows them: those whose other components match lie on the slice. */
export function mixesOn(view: ReadingView, { three }: TriangleChoice, through: WeighedMix): TriangleMix[] {
  return view.mixes.map(({ mix, shares, pours }) => ({
    mix,
    pours,
    shares: [shares[three[0]]!, shares[three[1]]!, shares[three[2]]!],
    onSlice: shares.every((share, i) => three.includes(i) || Math.abs(share - through.shares[i]!) < 0.02),
  }));
}
