import { type CriterionExpansion, criterionOf, expandCriterion } from './criterion.ts';
import { type Minimum, minimiseBounded } from './minimise.ts';
import type { PreparedMixed } from './prepare.ts';
import type { ScoreProducts } from './products.ts';
import { reduceAt } from './reduction.ts';

/** Beyond this variance ratio nothing is left for the residual (a standard deviation ten thousand times smaller). */
const LARGEST_RATIO = 1e8;

export type RatioMinimum = Minimum<CriterionExpansion>;

/**
 * Minimises the profiled criterion over the variance ratios from τ = 1. Where a ratio ends at zero it is tried
 * once more from beyond, since a restricted likelihood may have a second hill there; the better of the two counts.
 */
export function bestMinimum(prepared: PreparedMixed, scores: ScoreProducts): RatioMinimum {
  const { structure, products } = prepared;
  const problem = {
    most: LARGEST_RATIO,
    value: (tau: Float64Array) => {
      const reduction = reduceAt(structure, products, scores, tau);
      return reduction && reduction.square > 0 ? criterionOf(prepared, reduction) : Number.POSITIVE_INFINITY;
    },
    expand: (tau: Float64Array) => expandCriterion(prepared, scores, tau),
  };
  const first = minimiseBounded(problem, new Float64Array(structure.factors.length).fill(1))!;
  if (first.status !== 'converged' || first.position.every((v) => v > 0)) return first;
  const second = minimiseBounded(
    problem,
    first.position.map((v) => (v > 0 ? v : 10)),
  )!;
  const best = second.expansion.value < first.expansion.value - 1e-9 ? second : first;
  return { ...best, evaluations: first.evaluations + second.evaluations };
}
