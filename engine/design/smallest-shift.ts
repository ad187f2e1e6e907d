import { normalQuantile } from '../numeric/normal.ts';

/** How much cups of one mix scatter on an attribute, in scale units. */
export interface Noise {
  /** Standard deviation of one score of one assessor about their own level. */
  cup: number;
  /** Standard deviation, between assessors, of what a mix does to each beyond what it does to all. */
  assessorByMix: number;
}

/**
 * The smallest true difference between two mixes, picked anywhere in the region, that this panel would call real with
 * probability `power` in a two-sided test at `alpha`: (z₁₋α/₂ + z_power) √(v (σ²/R + τ²) / A), with v the mean
 * variance of such a difference in units of one mix's, A assessors, R replicates, σ the noise of a cup and τ² the
 * assessors' own reactions. Normal quantiles stand for Student's: the panel has many cups.
 */
export function smallestShift(
  pairVariance: number,
  { cup, assessorByMix }: Noise,
  panel: { assessors: number; replicates: number },
  { alpha = 0.05, power = 0.8 }: { alpha?: number; power?: number } = {},
): number {
  const ofMix = (cup ** 2 / panel.replicates + assessorByMix ** 2) / panel.assessors;
  return (normalQuantile(1 - alpha / 2) + normalQuantile(power)) * Math.sqrt(pairVariance * ofMix);
}
