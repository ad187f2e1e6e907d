import { estimate } from '../panel/mixed/estimate.ts';
import type { DegreesMethod } from '../panel/mixed/types.ts';
import type { BlendSpace } from '../region/blend-space.ts';
import type { CoxEffect, RegionWidths } from './fit-types.ts';
import { type Surface, termRow } from './surface.ts';

/** Widths below this count as none. */
export const NO_WIDTH = 1e-12;

/**
 * The mix reached from `start` when one share becomes `to` and the others keep their ratios to each other (Cox's
 * direction; Cox 1971, Biometrika 58, 155-159). Null where there are no others.
 */
export function alongCox(start: readonly number[], component: number, to: number): number[] | null {
  const others = 1 - start[component]!;
  if (!(others > NO_WIDTH)) return null;
  return start.map((share, j) => (j === component ? to : (share * (1 - to)) / others));
}

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
