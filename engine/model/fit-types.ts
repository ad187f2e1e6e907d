import type { ScheffeModel } from '../design/terms.ts';
import type { CupModel } from '../panel/cup-model.ts';
import type { DegreesMethod } from '../panel/mixed/types.ts';
import type { Attribute, Serving, WeighedMix } from '../panel/observations.ts';
import type { Variances } from '../panel/random-effects.ts';
import type { Test } from '../panel/reading-types.ts';
import type { OrderEffect } from '../panel/serving-order.ts';
import type { BlendSpace } from '../region/blend-space.ts';

/** What the fit needs to know of the allowed region: a mix inside it and how far each share reaches in it. */
export interface RegionWidths {
  centroid: readonly number[];
  low: readonly number[];
  high: readonly number[];
}

/** Models that can be fitted; `process` is a Gaussian process. */
export type ModelName = TermModel | 'process';

/** Models that are a sum of terms. */
export type TermModel = ScheffeModel | 'log-ratio';

export interface FitInput extends CupModel {
  space: BlendSpace;
  region: RegionWidths;
  /** As weighed; the reference has no row. */
  mixes: readonly WeighedMix[];
  servings: readonly Serving[];
  attributes: readonly Attribute[];
  /** `auto` chooses for each attribute. */
  model: ModelName | 'auto';
  df?: DegreesMethod | undefined;
  assessorsSetAside?: readonly string[] | undefined;
}

/**
 * `estimated`: everything is there. `missing`, `constant`: nothing to fit. `not-estimable`: the mixes cannot tell
 * the terms. `no-residual`: coefficients without standard errors. `not-converged`: tests are withheld.
 */
export type FitStatus =
  | 'estimated'
  | 'missing'
  | 'constant'
  | 'not-estimable'
  | 'no-residual'
  | 'not-converged';

export interface Coefficient {
  term: string;
  estimate: number;
  standardError: number | null;
  denDf: number | null;
  /** Null for a pure component: that it scores zero is no hypothesis of interest. */
  p: number | null;
}

export interface CoxEffect {
  component: string;
  /** Change of the score when the share goes from its lowest to its highest, the others keeping their ratios. */
  change: number | null;
  standardError: number | null;
  p: number | null;
  from: number;
  to: number;
  reason?: string;
}

export interface LackOfFit extends Test {
  /** `blend`: differences between fresh weighings of one recipe; `residual`: the noise of cups. */
  against: 'blend' | 'residual';
}

export interface LeaveOneMixOut {
  rmse: number | null;
  q2: number | null;
  reason?: string;
}

/** What the surface owes to one mix (`influence.ts` says how each is had). */
export interface MixInfluence {
  mix: string;
  blend: string;
  /** 0 to 1. */
  leverage: number | null;
  /** Points of the scale, and the same in standard errors. */
  moves: number | null;
  shift: number | null;
  /** Cook's distance of the whole blend. */
  distance: number | null;
  reason?: string;
}

export interface AttributeFit {
  id: string;
  status: FitStatus;
  reason: string | null;
  model: ModelName | null;
  terms: string[];
  aliased: string[];
  coefficients: Coefficient[];
  blending: Test;
  effects: CoxEffect[];
  variance: Variances;
  lackOfFit: LackOfFit;
  leaveOneMixOut: LeaveOneMixOut;
  /** One a tasted mix; empty where no sum of terms was fitted. */
  influence: MixInfluence[];
  /** Share of the scores' squares about their mean that the ratios account for; can be below zero. */
  rSquared: number | null;
  logRestrictedLikelihood: number | null;
  weights: { model: ModelName; weight: number }[];
  reference: { mean: number; standardError: number | null } | null;
  reduced: string[];
  /** What the order of serving was found to do and was taken out; only where asked for. */
  order?: OrderEffect[];
  /** What each doubling of the bottles' age did and was taken out; only where that can be told. */
  age?: OrderEffect;
  warnings: string[];
}

export interface RatioFit {
  attributes: AttributeFit[];
  warnings: string[];
}
