import { logRatioTerms } from '../design/log-ratio-terms.ts';
import { evaluateTerms } from '../design/terms.ts';
import type { BlendSpace } from '../region/blend-space.ts';
import type { RegionWidths } from './fit-types.ts';
import { PLANE_LEAVES_OUT, type TermSet } from './term-set.ts';

/** See `TermSet.untold`: curvature over logarithms is not the curvature that many attributes have. */
const CURVED_LEAVES_OUT = 0.06;

/**
 * The log contrast model of Aitchison and Bacon-Shone (1984, Biometrika 71, 323-330). It suits materials that act by
 * proportion: twice as much does the same from wherever one starts. Shares below 2 % of the region's width in that
 * component count as that much.
 *
 * @param degree 1 or 2
 * @param still settings that no tasted mix varied
 */
export function logRatioSet(
  space: BlendSpace,
  region: RegionWidths,
  degree: 1 | 2,
  still: readonly boolean[] = [],
): TermSet {
  const terms = logRatioTerms(space, region, degree, still);
  const used = new Set(terms.flatMap(({ settings }) => settings));
  return {
    model: 'log-ratio',
    names: terms.map(({ name }) => name),
    aliased: space.settings.filter((_, s) => !used.has(s)).map(({ id }) => id),
    pure: terms.map(({ settings, logs }) => settings.length + logs!.length === 0),
    untold: degree === 1 ? PLANE_LEAVES_OUT : CURVED_LEAVES_OUT,
    level: terms.flatMap(({ logs }, t) => (logs!.length > 0 ? [terms.map((_, j) => Number(j === t))] : [])),
    evaluate: (shares, coded, out) => {
      evaluateTerms(terms, shares, coded, out);
    },
  };
}
