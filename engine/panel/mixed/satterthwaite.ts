import { bilinear } from '../../numeric/dense.ts';
import type { Information } from './information.ts';

/**
 * Satterthwaite's degrees of freedom of a combination of the coefficients of Q: 2 v²/(g'C g), with v its variance,
 * g the gradient of v in the variance parameters and C twice the inverse of the second derivatives of the
 * restricted likelihood criterion (Giesbrecht and Burns 1985; Kuznetsova, Brockhoff and Christensen 2017, J. Stat.
 * Softw. 82(13)). All derivatives are exact.
 *
 * @returns null where the observed information is not positive definite
 */
export function satterthwaiteDf(info: Information, l: Float64Array): number | null {
  const gradient = info.slopes.map((slope) => bilinear(l, slope, l));
  return satterthwaiteFrom(info, bilinear(l, info.unit, l), gradient);
}

/** The same from the variance (over σ²) and its gradient. */
export function satterthwaiteFrom(
  info: Information,
  variance: number,
  gradient: ArrayLike<number>,
): number | null {
  if (info.exactDf !== null) return info.exactDf;
  if (!info.observedInverse) return null;
  const spread = bilinear(gradient, info.observedInverse, gradient);
  return spread > 0 ? (variance * variance) / spread : null;
}

/**
 * Denominator degrees of freedom of a sum of independent squared t over its number: the F whose mean is the mean of
 * those t² (Fai and Cornelius 1996; Kuznetsova et al. 2017). 2 where any of them has 2 or fewer.
 */
export function combinedDf(each: readonly number[]): number {
  const first = each[0]!;
  if (each.every((nu) => Math.abs(nu - first) < 1e-8)) return first;
  if (each.some((nu) => nu <= 2)) return 2;
  const mean = each.reduce((sum, nu) => sum + nu / (nu - 2), 0);
  return (2 * mean) / (mean - each.length);
}
