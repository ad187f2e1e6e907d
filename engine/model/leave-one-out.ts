import { type BlendLeftOut, isHardlyTold, valueAt } from './blends-left-out.ts';
import type { LeaveOneMixOut } from './fit-types.ts';
import type { Surface } from './surface.ts';

/**
 * Leaves out all scores of one blend after another and predicts its mixes from the fixed part, variance components
 * held: root mean square over mixes of the miss against the estimated mean, and q2 = 1 - Σ miss² / Σ (mean -
 * average)². Reference cups stay in and are not predicted. Where some blend alone tells a term, the figures stand
 * with a reason to think little of them.
 *
 * @param left the surface without each blend
 * @param means estimated means of the tasted mixes (mix as a factor)
 */
export function leaveOneMixOut(
  surface: Surface,
  left: readonly BlendLeftOut[],
  means: ArrayLike<number>,
): LeaveOneMixOut {
  const { mixes } = surface.tasted;
  const predicted = new Float64Array(mixes.length);
  const hardly: string[] = [];
  for (const one of left) {
    const { blend, mixes: own, beta, reason } = one;
    if (!beta) return { rmse: null, q2: null, reason: `leaving out ${blend}: ${reason}` };
    for (const m of own) predicted[m] = valueAt(surface, m, beta);
    if (isHardlyTold(surface, one)) hardly.push(blend);
  }
  const centre = mixes.reduce((sum, _, m) => sum + means[m]!, 0) / mixes.length;
  const miss = mixes.reduce((sum, _, m) => sum + (means[m]! - predicted[m]!) ** 2, 0);
  const spread = mixes.reduce((sum, _, m) => sum + (means[m]! - centre) ** 2, 0);
  const figures = { rmse: Math.sqrt(miss / mixes.length), q2: spread > 0 ? 1 - miss / spread : null };
  if (hardly.length === 0) return figures;
  return {
    ...figures,
    reason: `without ${hardly.join(' or ')} the others hardly tell the terms apart: the figure says little`,
  };
}
