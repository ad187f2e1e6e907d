import { type CriterionExpansion, criterionOf, expandCriterion } from './criterion.ts';
import { type Minimum, minimiseBounded } from './minimise.ts';
import type { PreparedMixed } from './prepare.ts';
import type { ScoreProducts } from './products.ts';
import { reduceAt } from './reduction.ts';

/** Beyond this variance ratio nothing is left for the residual (a standard deviation ten thousand times smaller). */
const LARGEST_RATIO = 1e8;

export type RatioMinimum = Minimum<CriterionExpansion>;

/** A derivative per unit of log ratio above this is no optimum. */
const STILL_SLOPING = 1e-3;

/**
 * Minimises the profiled criterion over the variance ratios from τ = 1. Where a ratio ends at zero it is tried once
 * more from far above, where one runs off to no residual once more from below, since a restricted likelihood may
 * have a second hill there; the better of the two counts.
 */
export function bestMinimum(prepared: PreparedMixed, scores: ScoreProducts): RatioMinimum {
  const from = (start: Float64Array) => settle(minimiseBounded(problemOf(prepared, scores), start)!);
  const first = from(new Float64Array(prepared.structure.factors.length).fill(1));
  const another = secondStart(first);
  if (!another) return first;
  const second = from(another);
  const better = second.status !== 'stalled' && second.expansion.value < first.expansion.value - 1e-9;
  return { ...(better ? second : first), evaluations: first.evaluations + second.evaluations };
}

function problemOf(prepared: PreparedMixed, scores: ScoreProducts) {
  return {
    most: LARGEST_RATIO,
    value: (tau: Float64Array) => {
      const reduction = reduceAt(prepared.structure, prepared.products, scores, tau);
      return reduction && reduction.square > 0 ? criterionOf(prepared, reduction) : Number.POSITIVE_INFINITY;
    },
    expand: (tau: Float64Array) => expandCriterion(prepared, scores, tau),
  };
}

/** Towards no residual the criterion flattens out: an end that still slopes in log ratio is no optimum. */
function settle(found: RatioMinimum): RatioMinimum {
  const slopes = found.position.map((v, k) => v * found.expansion.gradient[k]!);
  if (!slopes.some((v) => Math.abs(v) > STILL_SLOPING)) return found;
  return { ...found, status: found.position.some((v) => v > 1e4) ? 'at-limit' : 'stalled' };
}

function secondStart({ status, position }: RatioMinimum): Float64Array | null {
  if (status === 'converged' && position.every((v) => v > 0)) return null;
  if (status === 'converged') return position.map((v) => (v > 0 ? v : 10));
  return position.map(() => 0.05);
}
