import type { LinearSolver } from '../numeric/linear-solver.ts';
import type { BlendSpace } from '../region/blend-space.ts';
import type { Names } from '../region/limits.ts';
import type { Batch, Stocks, Weighing } from '../region/weighable.ts';
import type { WeighedMix } from '../region/weighed-mix.ts';
import type { Criterion } from './design-state.ts';
import type { PointSet } from './simplex-points.ts';
import type { PlannedModel, Term } from './terms.ts';

export type { Criterion } from './design-state.ts';

export interface PlanInput {
  space: BlendSpace;
  /** Display names of components and settings by id, for the sentences; default the ids. */
  names?: Names | undefined;
  batch: Batch;
  /** Strengths in percent in which components may be weighed instead, by component id. */
  stocks?: Stocks | undefined;
  /** How many mixes to plan, repeats among them. */
  mixes: number;
  /** Default: the richest of linear, quadratic and special cubic that the mixes can carry. */
  model?: PlannedModel | undefined;
  /** Default `average-variance`. */
  criterion?: Criterion | undefined;
  /** How many of the mixes are fresh weighings of others; default none is asked for. */
  replicated?: number | undefined;
  /** What is weighed already, as weighed. */
  already?: readonly WeighedMix[] | undefined;
  /** Mixes of the plan that are settled beforehand; they count among `mixes`. */
  pinned?: readonly PlannedPlace[] | undefined;
  /** A published set of points of a simplex; they are pinned and count among `mixes`, settings in the middle. */
  points?: PointSet | undefined;
  /** Mixes that the plan must keep away from, by a twentieth of the ranges. */
  forbidden?: readonly PlannedPlace[] | undefined;
  /** Most grams of a component in all new mixes together, by id; every fresh weighing counts. */
  atMost?: Readonly<Record<string, number>> | undefined;
  /**
   * Screens the components instead of modelling them: mixes on Cox's directions alone (`screeningPoints`), no two
   * alike unless `replicated`, for the linear model.
   */
  screen?: boolean | undefined;
  /** Mixes poured from each bottle, which differ in settings; default 1, and then bottles are shared by chance alone. */
  perBottle?: number | undefined;
  /** Looks for a cheaper plan that knows almost as much. */
  thrift?: Thrift | undefined;
  /** Sittings among which each taster's cups are divided; default 1. */
  sittings?: number | undefined;
  /** The number of new mixes that the choice of terms with prior information is made for; default `mixes`. */
  priorFor?: number | undefined;
  seed: number;
  /** Independent beginnings of the search; default 16. */
  starts?: number | undefined;
}

/** How much knowledge may be given up, and for what. */
export interface Thrift {
  /** Part of the criterion that may be lost, such as 0.02: of the average variance, or of the determinant a term. */
  loss: number;
  /** What a gram of each component counts, by id; what is left out counts nothing. */
  prices: Readonly<Record<string, number>>;
}

/** What thrift came to. */
export interface ThriftTold {
  /** What might be lost, and what is. */
  allowed: number;
  lost: number;
  /** What all mixes together cost before and after, in the unit of the prices. */
  costBefore: number;
  cost: number;
  /** Grams less of each component than in the plan that knows most; negative where there is more of it. */
  spared: Record<string, number>;
}

/** The coordinates g = T f in which the average variance of a design is the trace of (Σ g g' + fixed)⁻¹. */
export interface PlanBasis {
  terms: readonly Term[];
  /** Rows of T, lower triangular, one after the other: 1 + 2 + … + p numbers. */
  transform: number[];
}

/** A blend in the order of the space, with settings in their natural units. */
export interface PlannedPlace {
  shares: readonly number[];
  settings: readonly number[];
}

export interface PlanTools {
  solver: LinearSolver;
}

export interface PlannedMix {
  mix: string;
  /** Mixes that share a blend come out of one bottle and differ in settings. */
  blend: string;
  ratios: Record<string, number>;
  grams: Record<string, number>;
  settings: Record<string, number>;
  /** This mix is a fresh weighing of that one. */
  repeats?: string;
  /** This mix was pinned by the maker. */
  pinned?: true;
  /** What to put on the balance; present where some component has stocks. */
  weigh?: Weighing[];
  /** f'(X'X)⁻¹f at this mix: the share of its own score in what is predicted for it. */
  leverage: number;
  /** Average variance without this mix over that of the whole plan; null where the rest cannot settle all terms. */
  lost: number | null;
  /** The sitting in which each taster meets it, from 1; given where `sittings` were asked for. */
  sitting?: number;
  why: string;
}

/** What was assumed about terms that the mixes alone cannot settle. */
export interface PlanPrior {
  /** Terms with prior information. */
  terms: string[];
  /** Prior precision of every term of `terms`, in that order, in units of one over the variance of a cup. */
  precision: number[];
  says: string;
}

/** What a statistician asks of a plan; variances in units of the variance of one cup. */
export interface PlanJudgement {
  /** Mean variance of the difference of two mixes picked anywhere in the region. */
  pairVariance: number;
  /** The variance that this part of the region does not exceed: a curve over the fraction of the region. */
  reach: { fraction: number; variance: number }[];
  /** Largest over smallest eigenvalue of X'X in coordinates in which the region itself has condition 1. */
  condition: number;
  /** The coefficients that depend on each other most, strongest first. */
  correlations: { a: string; b: string; correlation: number }[];
}

export interface PlanResult {
  mixes: PlannedMix[];
  model: PlannedModel;
  /** Names of the terms that the figures below are about; with prior information, those of the next model too. */
  terms: string[];
  /** Terms that over this region are combinations of earlier ones. */
  aliased: string[];
  criterion: Criterion;
  /** Null where the mixes cannot settle all terms. */
  averageVariance: number | null;
  logDeterminant: number | null;
  maximumVariance: number | null;
  /** True where the mean behind `averageVariance` is exact. */
  averageIsExact: boolean;
  /** Null where the mixes cannot settle all terms. */
  judgement: PlanJudgement | null;
  /** With it a changed plan can be judged apart from the search. */
  basis: PlanBasis;
  /** Average variance with effects of sittings taken out, over that without; null as for the figures above. */
  sittingsCost: number | null;
  corners: number[][];
  cornersComplete: boolean;
  prior?: PlanPrior;
  /** Given where thrift was asked for. */
  thrift?: ThriftTold;
  warnings: string[];
}
