import type { Point } from '../../../engine/model/posterior-types.ts';
import type { BlendSpace } from '../../../engine/region/blend-space.ts';
import { toBlendSpace } from '../../../trials/schema/engine-shapes.ts';
import { finenessFor, type Mesh, meshPolygon } from '../../charts/triangle/mesh.ts';
import { type Slice, sharesAt, sliceRegion } from '../../charts/triangle/slice.ts';
import type { TriangleMix } from '../../charts/triangle/triangle-chart.ts';
import type { Scores } from '../model/messages.ts';
import { type ReadingView, sharesOf, type WeighedMix } from './reading-view.ts';

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
  /** All shares at each point of the mesh, settings as in the mix that the slice runs through. */
  points: Point[];
}

/** So many points make contours smooth; chances, which cost more, are asked for at fewer. */
export const FINE = 900;
export const COARSE = 240;

/** Lays a mesh over the allowed part of a slice; null where the slice misses what is allowed. */
export function askedSlice(
  view: ReadingView,
  { three }: TriangleChoice,
  mix: WeighedMix,
  most: number,
): AskedSlice | null {
  const space: BlendSpace = toBlendSpace(view.trial.brief);
  const slice = sliceRegion(space, three, mix.shares);
  if (slice.outline.length < 3) return null;
  const mesh = meshPolygon(slice.outline, finenessFor(slice.outline.length, most));
  const settings = view.trial.brief.settings.map(({ id, low }) => mix.settings[id] ?? low);
  const points = mesh.points.map((point) => ({
    shares: sharesAt(slice.frame, three, mix.shares, point),
    settings,
  }));
  return { slice, mesh, points };
}

/** Scores over the mesh as the triangle needs them: means and half the intervals. */
export function surfaceOf({ mean, low, high }: Scores): { means: number[]; halfWidths: number[] } {
  return { means: [...mean], halfWidths: [...high].map((top, i) => (top - low[i]!) / 2) };
}

/** Weighed mixes and planned ones as the triangle shows them: those whose other components match lie on the slice. */
export function mixesOn(view: ReadingView, { three }: TriangleChoice, through: WeighedMix): TriangleMix[] {
  return [...view.mixes, ...plannedMixes(view)].map(({ mix, shares, pours }) => ({
    mix,
    pours,
    shares: [shares[three[0]]!, shares[three[1]]!, shares[three[2]]!],
    onSlice: shares.every((share, i) => three.includes(i) || Math.abs(share - through.shares[i]!) < 0.02),
  }));
}

/** Mixes of the open round that are not weighed yet. */
function plannedMixes({ trial }: ReadingView): Omit<WeighedMix, 'settings'>[] {
  const open = trial.roundViews.at(-1);
  const waiting = open?.mixes.filter(({ weighed, again }) => weighed === null && !again) ?? [];
  return waiting.map(({ mix, planned }) => ({ mix, shares: sharesOf(trial, planned.grams), pours: 0 }));
}
