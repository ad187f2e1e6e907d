import type { AgeReading } from './age-at-tasting.ts';
import type { AnswersReading } from './answers/read-answers.ts';
import type { CupModel } from './cup-model.ts';
import type { LikingReading } from './map/liking-with.ts';
import type { DegreesMethod } from './mixed/types.ts';
import type { Attribute, Serving } from './observations.ts';
import type { Variances } from './random-effects.ts';
import type { OrderEffect } from './serving-order.ts';
import type { SessionShifts } from './session-shifts.ts';

export interface PanelInput extends CupModel {
  servings: readonly Serving[];
  attributes: readonly Attribute[];
  /** Assessors left out of the analysis; the reading shows both ways. */
  assessorsSetAside?: readonly string[] | undefined;
  df?: DegreesMethod | undefined;
}

/** A test; entries that cannot be had are null and `reason` says why. */
export interface Test {
  f: number | null;
  numDf: number | null;
  denDf: number | null;
  p: number | null;
  reason?: string;
}

/**
 * `estimated`: everything is there. `missing`: no score at all. `constant`: one and the same score everywhere.
 * `one-mix`: nothing to compare. `no-residual`: too few cups, or no scatter, for any standard error.
 * `not-converged`: the best point found is reported, tests are withheld.
 */
export type ReadingStatus =
  | 'estimated'
  | 'missing'
  | 'constant'
  | 'one-mix'
  | 'no-residual'
  | 'not-converged';

export interface MixMean {
  mix: string;
  mean: number;
  standardError: number | null;
  denDf: number | null;
  cups: number;
}

export interface MixDifference {
  a: string;
  b: string;
  difference: number;
  standardError: number | null;
  denDf: number | null;
  /** After Tukey and Kramer, over all pairs of this attribute. */
  p: number | null;
}

export interface AssessorReading {
  assessor: string;
  cups: number;
  setAside: boolean;
  /** Effect of the mix in the assessor's own scores. */
  discrimination: Test;
  /** Root mean square within mix of the assessor's own scores. */
  repeatability: number | null;
  /** Correlation of the assessor's mix means with the mean of the others'. */
  agreement: number | null;
  /** Slope of the assessor's mix means on the panel's. */
  scaling: number | null;
  /** How much higher than the panel the assessor scores the same mixes, on average. */
  offset: number | null;
  /** Change of the assessor's own level between sessions, beyond the panel's. */
  drift: Test;
  says: string;
}

/** What the sentences need to know beside the assessor's own figures. */
export interface PanelBackground {
  /** The mixes differ for the panel as a whole. */
  mixesDiffer: boolean;
  /** Length of the scale, or the range of the scores where no scale is known. */
  scaleLength: number;
}

/** What the mixed assessor model says of one attribute. */
export interface MixedAssessorReading {
  /** Mixes against disagreement. */
  mixTest: Test;
  /** Assessors spread the same mixes over more or less of the scale, against disagreement. */
  scaling: Test;
  /** Assessors disagree beyond that, against the noise of repeated cups. */
  disagreement: Test;
  /** By assessor: points given for each point of the panel, and whether that is other than one. */
  slopes: { assessor: string; slope: number; standardError: number | null; p: number | null }[];
}

export interface AttributeReading extends AnswersReading {
  id: string;
  status: ReadingStatus;
  reason: string | null;
  variance: Variances;
  mixTest: Test;
  means: MixMean[];
  differences: MixDifference[];
  assessors: AssessorReading[];
  /** Largest sets of mixes that cannot be told apart at 0.05, each from the highest mean down. */
  groups: string[][];
  logRestrictedLikelihood: number | null;
  /** What the order of serving was found to do and was taken out; only where asked for. */
  order?: OrderEffect[];
  /** What the bottles' age at tasting did and was taken out; only where it can be told. */
  age?: AgeReading;
  /** Shifts of assessors between sessions; only where the cups can tell and the model does not hold them already. */
  shifts?: SessionShifts;
  says: string;
  reduced: string[];
  warnings: string[];
  /** The mixed assessor model: differences in the use of the scale told from disagreement. */
  mixedAssessor: MixedAssessorReading;
  /** With nobody set aside; only where somebody is. */
  withEveryone?: { variance: Variances; mixTest: Test; means: MixMean[] };
}

export interface PanelReading {
  attributes: AttributeReading[];
  /** How liking goes with the other attributes; only where liking was asked. */
  liking?: LikingReading;
  /** What may be said of the bottles' age at tasting, by the attribute with the most cups; only where ages are known. */
  age?: Omit<AgeReading, 'effect'>;
  warnings: string[];
}

/** A test that cannot be had. */
export function noTest(reason: string): Test {
  return { f: null, numDf: null, denDf: null, p: null, reason };
}
