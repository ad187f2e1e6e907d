import { innerProduct } from '../../numeric/dense.ts';
import type { BlendSpace } from '../../region/blend-space.ts';
import { decodeSetting } from '../../region/blend-space.ts';
import type { RegionWidths } from '../fit-types.ts';
import type { Point } from '../posterior-types.ts';
import { spreadPoints } from '../spread-points.ts';

const POINTS = 128;
const GOLDEN = 0.618033988749895;

/**
 * Points spread over the region itself, always the same for the same space: along each of many directions from the
 * centroid, a part of the way to the first limit, the parts spread as they are in a ball of that dimension.
 */
export function coverPoints(space: BlendSpace, region: RegionWidths, count = POINTS): Point[] {
  const rows = limitRows(space, region);
  const dimension = Math.max(1, space.components.length - 1);
  return spreadPoints(space, region, count).map(({ shares, coded }, i) => {
    const direction = shares.map((share, c) => share - region.centroid[c]!);
    const reach = reachOf(rows, region.centroid, direction);
    const part = (((i + 1) * GOLDEN) % 1) ** (1 / dimension);
    return {
      shares: region.centroid.map((share, c) => share + part * reach * direction[c]!),
      settings: space.settings.map((setting, s) => decodeSetting(setting, coded[s]!)),
    };
  });
}

interface LimitRow {
  of: readonly number[];
  most: number;
}

/** Every limit of the region as of·shares ≤ most. */
function limitRows(space: BlendSpace, region: RegionWidths): LimitRow[] {
  const unit = (i: number, sign: number) => space.components.map((_, j) => (i === j ? sign : 0));
  const ranges = space.components.flatMap((_, i) => [
    { of: unit(i, 1), most: region.high[i]! },
    { of: unit(i, -1), most: -region.low[i]! },
  ]);
  const bounds = space.bounds.flatMap(({ of, least, most }) => {
    const row = space.components.map(({ id }) => (Object.hasOwn(of, id) ? of[id]! : 0));
    return [
      ...(most === undefined ? [] : [{ of: row, most }]),
      ...(least === undefined ? [] : [{ of: row.map((c) => -c), most: -least }]),
    ];
  });
  return [...ranges, ...bounds];
}

function reachOf(rows: readonly LimitRow[], from: readonly number[], direction: readonly number[]): number {
  let reach = Number.POSITIVE_INFINITY;
  for (const { of, most } of rows) {
    const speed = innerProduct(of, direction);
    if (speed > 1e-12) reach = Math.min(reach, Math.max(0, most - innerProduct(of, from)) / speed);
  }
  return Number.isFinite(reach) ? reach : 0;
}
