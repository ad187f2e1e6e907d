import { fitMeans } from './mean-model.ts';
import type { MixSummary } from './mix-summary.ts';
import { restrictedLikelihood } from './nugget.ts';

const STEPS = 120;
/** Half-normal scales up to which τ is looked at; the prior leaves 1e-15 beyond. */
const REACH = 8;

/**
 * How much true means scatter about a model's surface, as a variance: the posterior mean of τ² with τ half-normal and
 * the restricted likelihood of the mixes' means. A point estimate is zero far too often where few mixes are left over
 * for it; the average over what they leave possible is not, and comes to the estimate as mixes grow in number.
 *
 * @param x terms at each mix, mixes × terms
 * @param scale of the half-normal: what such a model leaves out where nothing is known
 * @returns scale² where the mixes say nothing of τ, 0 for a scale of 0
 */
export function expectedMisfit({ means, covariance }: MixSummary, x: Float64Array, scale: number): number {
  const m = means.length;
  if (!(scale > 0)) return 0;
  if (covariance === null || x.length >= m * m || fitMeans(means, x, covariance) === null) return scale ** 2;
  const score = restrictedLikelihood(means, x, covariance);
  const at = Array.from({ length: STEPS }, (_, k) => ((k + 0.5) / STEPS) * REACH * scale);
  const logs = at.map((tau) => score(tau * tau) - 0.5 * (tau / scale) ** 2);
  const highest = Math.max(...logs);
  let [weights, sum] = [0, 0];
  at.forEach((tau, k) => {
    const weight = Math.exp(logs[k]! - highest);
    weights += weight;
    sum += weight * tau * tau;
  });
  return sum / weights;
}
