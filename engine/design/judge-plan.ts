import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { dot } from '../numeric/dense.ts';
import { createRandom } from '../numeric/random.ts';
import { samplePoints } from '../region/sampling.ts';
import type { DesignState } from './design-state.ts';
import type { SearchProblem } from './plan-problem.ts';
import type { PlanJudgement } from './plan-types.ts';
import { orthonormalTerms } from './term-space.ts';

const POINTS = 10_000;
const FRACTIONS = [0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 1];
const SHOWN = 5;

/** Judges a sound design. */
export function judgePlan(problem: SearchProblem, state: DesignState): PlanJudgement {
  return {
    pairVariance: pairVariance(problem, state),
    reach: reachOf(problem, state),
    condition: conditionOf(state),
    correlations: correlationsOf(problem, state),
  };
}

/**
 * Mean of (g - h)'A(g - h) over independent uniform g and h: 2 (tr A - m'Am) with m the mean of g.
 */
export function pairVariance({ space }: SearchProblem, state: DesignState): number {
  return 2 * (state.trace - dot(space.mean, state.times(space.mean)));
}

/**
 * Average variance over the region, relative to the whole plan, where one row is lost: removing g from X'X adds
 * g'A²g / (1 - g'Ag) to the trace. Null where the rest cannot settle all terms.
 */
export function lostRow(state: DesignState, g: Float64Array): number | null {
  const ag = state.times(g);
  const left = 1 - dot(g, ag);
  return left <= 1e-9 ? null : 1 + dot(ag, ag) / left / state.trace;
}

/** Quantiles of the variance over uniform blends and settings (Zahran, Anderson-Cook and Myers 2003). */
function reachOf({ region, space, input }: SearchProblem, state: DesignState): PlanJudgement['reach'] {
  const random = createRandom(input.seed, 'reach');
  const variances = samplePoints(region, random, POINTS)
    .map((shares) => {
      const coded = region.space.settings.map(({ low, high }) => (high > low ? 2 * random.uniform() - 1 : 0));
      const g = orthonormalTerms(space, shares, coded);
      return dot(g, state.times(g));
    })
    .sort((a, b) => a - b);
  return FRACTIONS.map((fraction) => ({
    fraction,
    variance: variances[Math.min(POINTS - 1, Math.ceil(fraction * POINTS) - 1)]!,
  }));
}

function conditionOf({ a, p }: DesignState): number {
  const rows = Array.from({ length: p }, (_, i) => Array.from(a.subarray(i * p, (i + 1) * p)));
  const { realEigenvalues } = new EigenvalueDecomposition(new Matrix(rows), { assumeSymmetric: true });
  return Math.max(...realEigenvalues) / Math.min(...realEigenvalues);
}

/** Correlations of the coefficients of the terms as they are named: their covariance is T'AT. */
function correlationsOf({ space }: SearchProblem, { a, p }: DesignState): PlanJudgement['correlations'] {
  const { transform: t, terms } = space;
  const covariance = (i: number, j: number) => {
    let sum = 0;
    for (let k = i; k < p; k++)
      for (let l = j; l < p; l++) sum += t[k * p + i]! * a[k * p + l]! * t[l * p + j]!;
    return sum;
  };
  const deviation = terms.map((_, i) => Math.sqrt(covariance(i, i)));
  return terms
    .flatMap((one, i) =>
      terms.slice(0, i).map((other, j) => ({
        ...{ a: other.name, b: one.name },
        correlation: covariance(i, j) / (deviation[i]! * deviation[j]!),
      })),
    )
    .sort((x, y) => Math.abs(y.correlation) - Math.abs(x.correlation))
    .slice(0, SHOWN);
}
