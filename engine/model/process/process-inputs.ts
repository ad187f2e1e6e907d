import type { BlendSpace } from '../../region/blend-space.ts';
import type { RegionWidths } from '../fit-types.ts';
import type { Point } from '../posterior-types.ts';

/**
 * How ratios enter the kernels: as shares over their widths, or as logarithms over theirs (taste answers to
 * proportions of a trace as it does to those of a main component). Settings enter in the same two ways.
 */
export type InputKind = 'shares' | 'logarithms';

/** Below this part of its highest a share's logarithm stays put: nothing tastes infinitely less than nothing. */
const FLOOR = 0.05;

/** Inputs of each point on about 0..1 over the region; what does not vary is left out. */
export function processInputs(
  space: BlendSpace,
  region: RegionWidths,
  kind: InputKind,
  points: readonly Point[],
): Float64Array[] {
  const shares = space.components.map((_, i) => scaleOf(region.low[i]!, region.high[i]!, kind));
  const settings = space.settings.map(({ low, high }) => scaleOf(low, high, kind));
  return points.map((point) =>
    Float64Array.from([
      ...shares.flatMap((scale, i) => (scale ? [scale(point.shares[i]!)] : [])),
      ...settings.flatMap((scale, s) => (scale ? [scale(point.settings[s]!)] : [])),
    ]),
  );
}

/** Null where nothing varies; a setting that can be zero or less has no logarithm and stays linear. */
function scaleOf(low: number, high: number, kind: InputKind): ((value: number) => number) | null {
  if (!(high - low > 1e-12)) return null;
  if (kind === 'shares' || low < 0) return (value) => (value - low) / (high - low);
  const floor = FLOOR * high;
  const from = Math.log(Math.max(low, floor));
  const range = Math.log(high) - from;
  return (value) => (Math.log(Math.max(value, floor)) - from) / range;
}
