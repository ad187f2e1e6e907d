import { inverseOfPositive, multiply } from '../../numeric/dense.ts';
import { leaveGroupsOut } from '../mean-model.ts';
import type { MixSummary } from '../mix-summary.ts';
import { LEVEL } from './fit-process.ts';
import { weigh } from './process-kernel.ts';
import type { ProcessModels } from './process-posterior.ts';

/**
 * Log density with which one attribute's average of processes foretells the means of each blend from all others, on
 * the same means and panel noise as the sums of terms, so that the two can be weighed against each other. Each
 * surface's own by the inverse of its covariance (as `leaveGroupsOut`); the average's as the harmonic mean with the
 * surfaces' weights, since a blend that is left out also leaves its share of those: 1 / p(y_g | rest) = Σ w / p_c.
 *
 * @returns a density for each blend; null where there is no process or the numbers do not allow it
 */
export function processDensities(
  { kernels, prepared, components }: ProcessModels,
  at: number,
  { means, covariance, cups, blendOf }: MixSummary,
): Float64Array | null {
  const attribute = prepared[at];
  const own = components[at];
  if (!attribute || !own) return null;
  const m = means.length;
  const { middle, unit, noise, points } = attribute;
  const y = Float64Array.from(means, (mean) => (mean - middle) / unit);
  const seen =
    covariance?.map((v) => v / unit ** 2) ??
    Float64Array.from({ length: m * m }, (_, j) => (j % (m + 1) === 0 ? noise.residual / cups[j % m]! : 0));
  const parts = own.map(({ structure, amplitude, weight }) => {
    const shape = weigh(kernels.between(structure, points, points), structure.parts);
    const prior = Float64Array.from(seen, (v, j) => v + LEVEL ** 2 + amplitude ** 2 * shape[j]!);
    const projection = inverseOfPositive(prior, m);
    const left = projection && leaveGroupsOut({ projection, weights: multiply(projection, y, m) }, blendOf);
    return { weight, left };
  });
  if (parts.some(({ left }) => left === null)) return null;
  const groups = parts[0]!.left!.length;
  return Float64Array.from({ length: groups }, (_, g) => {
    const members = blendOf.reduce((count, blend) => count + Number(blend === g), 0);
    const least = Math.min(...parts.map(({ left }) => left![g]!));
    const sum = parts.reduce((all, { weight, left }) => all + weight * Math.exp(least - left![g]!), 0);
    return least - Math.log(sum) - members * Math.log(unit);
  });
}
