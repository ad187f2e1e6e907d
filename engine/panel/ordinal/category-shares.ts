import { EngineError } from '../../errors.ts';
import type { OrdinalFit } from './cumulative-link.ts';
import { gaussHermite } from './gauss-hermite.ts';
import { LINKS } from './links.ts';

/**
 * The share of each used category at a row of the columns: for an assessor without an effect of their own
 * (`typical`), or over all assessors (`population`, the effect integrated out).
 *
 * @returns null where nothing was estimated
 */
export function categoryShares(
  fit: OrdinalFit,
  row: ArrayLike<number>,
  of: 'typical' | 'population' = 'typical',
): number[] | null {
  if (fit.status !== 'estimated') return null;
  if (row.length !== fit.coefficients.length)
    throw new EngineError('bad-argument', 'row', row.length, `${fit.coefficients.length} numbers`);
  const centre = fit.coefficients.reduce((sum, c, j) => sum + c.estimate * row[j]!, 0);
  const spread = Math.sqrt(fit.assessorVariance ?? 0);
  if (of === 'typical' || spread === 0) return sharesAt(fit, centre);
  const { nodes, weights } = gaussHermite(40);
  const out = fit.categories.map(() => 0);
  nodes.forEach((x, q) => {
    sharesAt(fit, centre + Math.SQRT2 * spread * x).forEach((share, j) => {
      out[j]! += (weights[q]! / Math.sqrt(Math.PI)) * share;
    });
  });
  return out;
}

function sharesAt(fit: OrdinalFit, centre: number): number[] {
  const limits = [Number.NEGATIVE_INFINITY, ...fit.thresholds, Number.POSITIVE_INFINITY];
  return fit.categories.map((_, j) => LINKS[fit.link].between(limits[j]! - centre, limits[j + 1]! - centre));
}
