import { estimate } from '../panel/mixed/estimate.ts';
import type { DegreesMethod } from '../panel/mixed/types.ts';
import type { BlendSpace } from '../region/blend-space.ts';
import { alongCox, NO_WIDTH } from '../region/cox-direction.ts';
import type { CoxEffect, RegionWidths } from './fit-types.ts';
import { type Surface, termRow } from './surface.ts';

/** Change of the surface along each component's Cox direction through the centroid, over the region's width. */
export function coxEffects(
  surface: Surface,
  space: BlendSpace,
  region: RegionWidths,
  df: DegreesMethod,
): CoxEffect[] {
  const middle = space.settings.map((_, s) => (isStill(surface, s) ? surface.tasted.mixes[0]!.coded[s]! : 0));
  return space.components.map(({ id }, i) => {
    const [from, to] = [region.low[i]!, region.high[i]!];
    const none = (reason: string) => ({
      component: id,
      change: null,
      standardError: null,
      p: null,
      from,
      to,
      reason,
    });
    if (to - from <= NO_WIDTH) return none('the share does not vary');
    const [start, end] = [alongCox(region.centroid, i, from), alongCox(region.centroid, i, to)];
    if (!start || !end) return none('there is no other component to give way');
    const row = termRow(surface, end, middle);
    termRow(surface, start, middle).forEach((v, j) => {
      row[j]! -= v;
    });
    const { estimate: change, standardError, p } = estimate(surface.fit, row, df);
    return { component: id, change, standardError, p, from, to };
  });
}

function isStill({ tasted: { mixes } }: Surface, setting: number): boolean {
  return mixes.every(({ coded }) => coded[setting] === mixes[0]!.coded[setting]);
}
