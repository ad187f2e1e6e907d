import { fixedWithVariancesHeld } from '../panel/mixed/held.ts';
import type { LeaveOneMixOut } from './fit-types.ts';
import type { Surface } from './surface.ts';

/** A prediction less certain than so many cups' standard deviations is hardly one. */
const HARDLY = 10;

/**
 * Leaves out all scores of one blend after another and predicts its mixes from the fixed part, variance components
 * held: root mean square over mixes of the miss against the estimated mean, and q2 = 1 - Σ miss² / Σ (mean -
 * average)². Reference cups stay in and are not predicted. Where some blend alone tells a term, the figures stand
 * with a reason to think little of them.
 *
 * @param means estimated means of the tasted mixes (mix as a factor)
 */
export function leaveOneMixOut(surface: Surface, means: ArrayLike<number>): LeaveOneMixOut {
  const { mixes } = surface.tasted;
  const predicted = new Float64Array(mixes.length);
  const hardly: string[] = [];
  for (const blend of new Set(mixes.map((m) => m.blend))) {
    const out = mixes.map((m) => m.blend === blend);
    const { beta, covariance, reason } = withoutMixes(surface, out);
    if (!beta || !covariance) return { rmse: null, q2: null, reason: `leaving out ${blend}: ${reason}` };
    out.forEach((left, m) => {
      if (left) predicted[m] = valueAt(surface, m, beta);
    });
    if (out.some((left, m) => left && varianceAt(surface, m, covariance) > HARDLY ** 2 * surface.fit.sigma2!))
      hardly.push(blend);
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

/** Coefficients without the scores of the marked mixes; null where they cannot be told. */
function withoutMixes({ tasted: { cups, reference }, fit }: Surface, out: readonly boolean[]) {
  const keep = Array.from(cups.mixOf, (mix) => mix === reference || !out[mix]);
  return fixedWithVariancesHeld(fit, keep);
}

function varianceAt({ rows, set, fit }: Surface, mix: number, covariance: Float64Array): number {
  const p = set.names.length;
  let sum = 0;
  for (let i = 0; i < p; i++)
    for (let j = 0; j < p; j++) sum += rows[mix * p + i]! * covariance[i * fit.p + j]! * rows[mix * p + j]!;
  return sum;
}

function valueAt({ rows, set }: Surface, mix: number, beta: Float64Array): number {
  const p = set.names.length;
  let sum = 0;
  for (let j = 0; j < p; j++) sum += rows[mix * p + j]! * beta[j]!;
  return sum;
}
