import type { Random } from '../../engine/numeric/random.ts';
import type { BlendSpace } from '../../engine/region/blend-space.ts';
import type { Region } from '../../engine/region/region.ts';
import { samplePlaces } from '../../engine/region/sampling.ts';

const INNER = 200;
const CORNERS = 64;

interface Point {
  shares: readonly number[];
  settings: readonly number[];
}

/**
 * Points all over what may be mixed, which the best of each draw is looked for among: corners (a drawn part of them
 * where there are many) and points inside, at the ends of the settings and between.
 */
export function coverPoints(space: BlendSpace, region: Region, random: Random): Point[] {
  const corners =
    region.corners.points.length > CORNERS
      ? random.shuffle(region.corners.points).slice(0, CORNERS)
      : region.corners.points;
  const ends = settingEnds(space);
  const outer = [...corners, region.centroid].flatMap((shares) =>
    ends.map((settings) => ({ shares, settings })),
  );
  return [...outer, ...samplePlaces(region, random, INNER)];
}

/** All combinations of lowest and highest settings; one empty combination where there are none. */
function settingEnds({ settings }: BlendSpace): number[][] {
  return settings.reduce<number[][]>(
    (sets, { low, high }) =>
      (low === high ? [low] : [low, high]).flatMap((end) => sets.map((set) => [...set, end])),
    [[]],
  );
}
