/**
 * Linear mixed models y = Xβ + Σ Z_k u_k + e with scalar random intercepts u_k ~ N(0, σ_k²), e ~ N(0, σ²).
 * Where what is:
 * - `prepare.ts`          prepareMixed(fixed, names, random): PreparedMixed       shared by attributes scored on the same cups
 * - `fit.ts`              fitMixed(problem): MixedFit · fitPrepared(prepared, y): MixedFit
 * - `estimate.ts`         estimate(fit, l, method): Estimate
 * - `wald-test.ts`        waldTest(fit, L, method): WaldTest
 * - `prediction.ts`       jointPrediction(fit, points): JointPrediction
 * - `all-pairs.ts`        allPairs(fit, rows, labels, method): AllPairs
 * - `held.ts`             fixedWithVariancesHeld(fit, keepRows): HeldFit
 * - `independent-columns.ts` independentColumns(fixed, p): number[]  the columns to keep, first come first kept
 */
import type { PreparedMixed } from './prepare.ts';
import type { Workings } from './workings.ts';

export type { MixedProblem, RandomFactor } from './problem.ts';

/**
 * `estimated`: all is there. `perfect-fit`: no residual is left, so there are no standard errors. `saturated`: as
 * many columns as rows. `not-converged`: the best point found is reported, tests are withheld.
 */
export type FitStatus = 'estimated' | 'perfect-fit' | 'saturated' | 'not-converged';

export type DegreesMethod = 'satterthwaite' | 'kenward-roger';

/**
 * A fitted model. A component estimated as zero is exactly zero: estimates, likelihood and every test made from this
 * fit are then those of the model without it, so no refit is needed.
 */
export interface MixedFit {
  status: FitStatus;
  /** Why the status is not `estimated`. */
  reason: string | null;
  n: number;
  p: number;
  names: readonly string[];
  beta: Float64Array;
  /** p × p, row by row; null unless a residual variance could be estimated. */
  covariance: Float64Array | null;
  /** Residual variance; 0 for a perfect fit, null for a saturated one. */
  sigma2: number | null;
  /** Variance of each random factor; null where the data cannot tell it (see `unidentified`). */
  variances: Record<string, number | null>;
  /** Factors whose variance is estimated as exactly zero. */
  zero: string[];
  /** Factors left out because their variance is confounded with the fixed part, the residual or an earlier factor. */
  unidentified: string[];
  /** -½ of the restricted maximum likelihood criterion as lme4 defines it. */
  logRestrictedLikelihood: number | null;
  evaluations: number;
  /** Largest absolute projected derivative of the criterion per unit of log(1 + variance ratio). */
  gradientNorm: number;
  warnings: string[];
  /** Conditional modes of each factor's levels (0 for a level without rows). */
  effects: Record<string, Float64Array>;
  /** Xβ + Σ Z_k û_k. */
  fitted: Float64Array;
  residuals: Float64Array;
  y: Float64Array;
  prepared: PreparedMixed;
  /** Factorisations at the estimate, made once and used by every test and prediction. */
  workings: Workings | null;
}

/** One linear combination of the fixed effects. Null with `reason` where it cannot be had. */
export interface Estimate {
  estimate: number;
  standardError: number | null;
  denDf: number | null;
  t: number | null;
  p: number | null;
  reason: string | null;
}

/** A joint test of several combinations. Null with `reason` where it cannot be had; `numDf` is the rank of L. */
export interface WaldTest {
  f: number | null;
  numDf: number;
  denDf: number | null;
  p: number | null;
  reason: string | null;
}

/** A sparse weighting of random-effect levels: Σ weight · û_factor[level]. */
export type EffectWeights = readonly { factor: string; level: number; weight: number }[];

/**
 * Points to predict: `fixed` is m × p, row by row. `effects` lists the distinct weightings of random effects and
 * `effectOf[j]` says which one point j takes (-1 = none), so that thousands of points can share a few.
 */
export interface PredictionPoints {
  fixed: Float64Array;
  effects: readonly EffectWeights[];
  effectOf: Int32Array;
}

export interface JointPrediction {
  /** x'β̂ + z'û of each point. */
  value: Float64Array;
  /** m × m covariance of the prediction errors x'(β̂-β) + z'(û-u); null where the fit has no residual variance. */
  covariance: Float64Array | null;
  /** Satterthwaite's degrees of freedom of each point's variance; null where they cannot be had. */
  denDf: (number | null)[];
}

export interface AllPairs {
  means: { label: string; mean: number; standardError: number | null; denDf: number | null }[];
  /** `difference` = a minus b, p after Tukey and Kramer. */
  differences: {
    a: string;
    b: string;
    difference: number;
    standardError: number | null;
    denDf: number | null;
    p: number | null;
  }[];
}

/** Fixed effects with the variance ratios held; null with a reason where the kept rows cannot tell them all. */
export interface HeldFit {
  beta: Float64Array | null;
  /** (X'V⁻¹X)⁻¹σ² of the kept rows, σ² held too. */
  covariance: Float64Array | null;
  /** Conditional modes given the kept rows. */
  effects: Record<string, Float64Array> | null;
  reason: string | null;
}
