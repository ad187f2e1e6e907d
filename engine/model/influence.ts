import { cholesky, solveLower } from '../numeric/dense.ts';
import { type BlendLeftOut, isHardlyTold, valueAt, varianceAt } from './blends-left-out.ts';
import type { MixInfluence } from './fit-types.ts';
import type { Surface } from './surface.ts';

/**
 * How much the surface rests on each tasted mix: what changes when all scores of its blend are left out, variance
 * components held at their estimates. With β̂ and C = Cov β̂ of the p terms, and (b) without the blend, at the mix's row x:
 * - `moves` = x'β̂ - x'β̂(b), in points of the scale
 * - `shift` = moves / √(x'Cx): the same in standard errors (DFFITS of Belsley, Kuh and Welsch 1980, with the error of the
 *   whole fit instead of the one without; 2√(p/mixes) is their bound to look at)
 * - `leverage` = 1 - x'Cx / x'C(b)x, from 0 to 1: the share of what is known there that its own scores give. With one cup a
 *   mix and no random effects it is the diagonal of the hat matrix
 * - `distance` = (β̂ - β̂(b))' C⁻¹ (β̂ - β̂(b)) / p: Cook's distance, one a blend
 *
 * Where the other mixes cannot tell the terms, or hardly, leverage is 1 or near it and the rest null with a reason; without a
 * residual variance all is null with a reason.
 *
 * Sources: Cook 1977, Technometrics 19, 15-18; Belsley, Kuh and Welsch 1980, Regression Diagnostics, chapter 2; for mixed
 * models with variances held Christensen, Pearson and Johnson 1992, Technometrics 34, 38-45.
 */
export function influenceOf(surface: Surface, left: readonly BlendLeftOut[]): MixInfluence[] {
  const out: MixInfluence[] = [];
  for (const one of left) {
    const distance = isHardlyTold(surface, one) ? null : cooksDistance(surface, one.beta);
    for (const m of one.mixes) {
      const { mix } = surface.tasted.mixes[m]!;
      out[m] = { mix, blend: one.blend, ...influenceAt(surface, one, m), distance };
    }
  }
  return out;
}

function influenceAt(
  surface: Surface,
  left: BlendLeftOut,
  mix: number,
): Pick<MixInfluence, 'leverage' | 'moves' | 'shift' | 'reason'> {
  const { fit } = surface;
  const { beta, covariance, blend, reason } = left;
  const nothing = { leverage: null, moves: null, shift: null };
  if (fit.covariance === null) return { ...nothing, reason: fit.reason ?? 'nothing tells the error' };
  if (beta === null || covariance === null)
    return { ...nothing, leverage: 1, reason: `leaving out ${blend}: ${reason}` };
  const whole = varianceAt(surface, mix, fit.covariance);
  const without = varianceAt(surface, mix, covariance);
  const leverage = without > 0 ? Math.min(1, Math.max(0, 1 - whole / without)) : null;
  if (isHardlyTold(surface, left))
    return { ...nothing, leverage, reason: `without ${blend} the others hardly tell the terms apart` };
  const moves = valueAt(surface, mix, fit.beta) - valueAt(surface, mix, beta);
  return { leverage, moves, shift: whole > 0 ? moves / Math.sqrt(whole) : null };
}

/** Over the terms alone: what the reference and the order of serving take up is no part of the surface. */
function cooksDistance({ fit, set }: Surface, beta: Float64Array | null): number | null {
  const p = set.names.length;
  if (beta === null || fit.covariance === null) return null;
  const l = Float64Array.from({ length: p * p }, (_, at) => {
    return fit.covariance![Math.floor(at / p) * fit.p + (at % p)]!;
  });
  if (cholesky(l, p) === null) return null;
  const change = Float64Array.from({ length: p }, (_, j) => fit.beta[j]! - beta[j]!);
  solveLower({ l, n: p, at: 0 }, change, 1);
  return change.reduce((sum, v) => sum + v * v, 0) / p;
}
