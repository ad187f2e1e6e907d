import { type AgeReading, sayAgeEffect, toldApart } from './age-at-tasting.ts';
import { readAssessors } from './assessor-reading.ts';
import { alikeGroups } from './brackets.ts';
import { type CupModel, modelledCups } from './cup-model.ts';
import { type Cups, cupsOf } from './cups.ts';
import { mixContrasts } from './mix-contrasts.ts';
import type { MixModels } from './mix-model.ts';
import { allPairs } from './mixed/all-pairs.ts';
import type { DegreesMethod, MixedFit } from './mixed/types.ts';
import { waldTest } from './mixed/wald-test.ts';
import { readMixedAssessor } from './mixed-assessor.ts';
import type { Attribute, Serving } from './observations.ts';
import { NO_VARIANCES, reductionsOf, variancesOf } from './random-effects.ts';
import {
  type AttributeReading,
  type MixDifference,
  type MixMean,
  noTest,
  type ReadingStatus,
  type Test,
} from './reading-types.ts';
import { servingEffects } from './serving-effects.ts';
import { besideEffects, type OrderEffect } from './serving-order.ts';
import { linkedSessions, unlinkedWarning } from './session-links.ts';
import { sessionShifts } from './session-shifts.ts';

/** Mixes are called different below this. */
const APART = 0.05;

export interface AttributeQuestion {
  servings: readonly Serving[];
  attribute: Attribute;
  /** Place of the attribute in `scores`. */
  at: number;
  setAside: ReadonlySet<string>;
  df: DegreesMethod;
  models: MixModels;
  /** The same with the assessors' shifts between sessions. */
  shiftedModels: MixModels;
  /** What the model is to hold beside mix, assessor and session. */
  beside: CupModel;
}

/** Reads one attribute: variances, mixes, differences, assessors. */
export function readAttribute(question: AttributeQuestion): AttributeReading {
  const { servings, attribute, at, setAside, beside } = question;
  const { cups, reason: unadjusted, age } = modelledCups(servings, at, { ...beside, setAside });
  const { fit, ...core } = cups.y.length === 0 ? missing() : readMixes(cups, question);
  const aged = age && ageOf(age, cups, fit, question.df);
  const shifts = fit && sessionShifts(cups, fit, question.shiftedModels);
  const everyone = cupsOf(servings, at);
  const background = {
    mixesDiffer: core.mixTest.p !== null && core.mixTest.p < APART,
    scaleLength: attribute.scale ? attribute.scale[1] - attribute.scale[0] : rangeOf(everyone.y),
  };
  const mixedAssessor = readMixedAssessor(cupsOf(servings, at, setAside));
  const unlinked = unlinkedWarning(linkedSessions(cups));
  const effects =
    core.status === 'estimated' && !core.order
      ? servingEffects(
          servings,
          cups,
          core.means.map((m) => m.mean),
        )
      : [];
  return {
    id: attribute.id,
    ...core,
    assessors: readAssessors(everyone, setAside, background),
    says: sayMixes(core),
    mixedAssessor,
    ...(shifts ? { shifts } : {}),
    ...(aged ? { age: aged } : {}),
    warnings: [
      ...core.warnings,
      ...(unadjusted ? [unadjusted] : []),
      ...(unlinked ? [unlinked] : []),
      ...effects,
      ...(shifts?.says ? [shifts.says] : []),
      ...otherVerdict(core.mixTest, mixedAssessor.mixTest),
    ],
    ...(setAside.size > 0
      ? { withEveryone: readEveryone(modelledCups(servings, at, beside).cups, question) }
      : {}),
  };
}

type Core = Omit<
  AttributeReading,
  'id' | 'assessors' | 'says' | 'withEveryone' | 'mixedAssessor' | 'shifts' | 'age'
> & {
  /** Null where nothing was fitted. */
  fit: MixedFit | null;
};

function missing(): Core {
  return unread('missing', 'no score was given', [], []);
}

function unread(status: ReadingStatus, reason: string, means: MixMean[], reduced: string[]): Core {
  return {
    fit: null,
    status,
    reason,
    variance: NO_VARIANCES,
    mixTest: noTest(reason),
    means,
    differences: [],
    groups: [],
    logRestrictedLikelihood: null,
    reduced,
    warnings: [reason],
  };
}

function readMixes(cups: Cups, { df, models }: AttributeQuestion): Core {
  if (cups.y.every((v) => v === cups.y[0])) {
    const reason = 'every score is the same';
    return unread('constant', reason, plainMeans(cups), []);
  }
  const { fit, random } = models.fit(cups);
  const { means, differences } = allPairs(fit, meanRows(cups, fit), cups.mixes, df);
  const oneMix = cups.mixes.length < 2;
  const status = oneMix ? 'one-mix' : statusOf(fit);
  const reason = oneMix ? 'only one mix was scored: there is nothing to compare' : fit.reason;
  return {
    fit,
    status,
    reason,
    variance: variancesOf(fit),
    mixTest: oneMix ? noTest(reason!) : mixTest(cups, fit, df),
    means: means.map(({ label, ...rest }, m) => ({ mix: label, ...rest, cups: cupsOfMix(cups, m) })),
    differences,
    groups: groupsOf(
      means.map(({ label, mean }) => ({ mix: label, mean })),
      differences,
    ),
    logRestrictedLikelihood: fit.logRestrictedLikelihood,
    ...orderOf(besideEffects(cups, fit, df)),
    reduced: [...random.reduced, ...reductionsOf(fit)],
    warnings: [
      ...(reason ? [reason] : []),
      ...(cups.assessors.length < 2 ? ['one assessor: what is said holds for this person only'] : []),
      ...fit.warnings,
    ],
  };
}

function readEveryone(cups: Cups, question: AttributeQuestion) {
  const { variance, mixTest: test, means } = cups.y.length === 0 ? missing() : readMixes(cups, question);
  return { variance, mixTest: test, means };
}

function orderOf(effects: readonly OrderEffect[]): Pick<AttributeReading, 'order'> {
  const { order } = toldApart(effects);
  return order ? { order } : {};
}

/** Age where it was counted and an effect could be fitted. */
function ageOf(
  age: Omit<AgeReading, 'effect'>,
  cups: Cups,
  fit: MixedFit | null,
  df: DegreesMethod,
): AgeReading | null {
  const effect = fit && toldApart(besideEffects(cups, fit, df)).age;
  return effect ? { ...age, says: sayAgeEffect(effect), effect } : null;
}

function statusOf(fit: MixedFit): ReadingStatus {
  if (fit.status === 'estimated' || fit.status === 'not-converged') return fit.status;
  return 'no-residual';
}

/** All means equal. */
function mixTest(cups: Cups, fit: MixedFit, df: DegreesMethod): Test {
  const counts = cups.mixes.map((_, m) => cupsOfMix(cups, m));
  const contrasts = mixContrasts(cups.mixes, counts).map((weights) => padded(weights, fit.p));
  const { f, numDf, denDf, p, reason } = waldTest(fit, contrasts, df);
  return f === null || reason !== null ? noTest(reason ?? 'cannot be tested') : { f, numDf, denDf, p };
}

function groupsOf(means: readonly { mix: string; mean: number }[], differences: readonly MixDifference[]) {
  if (differences.some((d) => d.p === null)) return [];
  const apart = new Set(differences.filter((d) => d.p! < APART).map((d) => pairKey(d.a, d.b)));
  const order = [...means].sort((a, b) => b.mean - a.mean).map(({ mix }) => mix);
  return alikeGroups(order, (a, b) => apart.has(pairKey(a, b)) || apart.has(pairKey(b, a)));
}

function pairKey(a: string, b: string): string {
  return `${a}\u0000${b}`;
}

function plainMeans(cups: Cups): MixMean[] {
  return cups.mixes.map((mix, m) => ({
    mix,
    mean: cups.y[0]!,
    standardError: null,
    denDf: null,
    cups: cupsOfMix(cups, m),
  }));
}

function cupsOfMix(cups: Cups, mix: number): number {
  return cups.mixOf.reduce((count, m) => count + Number(m === mix), 0);
}

/** The means are the first coefficients; what stands beside them is centred and counts for nothing. */
function meanRows({ mixes }: Cups, { p }: MixedFit): Float64Array[] {
  return mixes.map((_, m) => {
    const row = new Float64Array(p);
    row[m] = 1;
    return row;
  });
}

function padded(weights: Float64Array, p: number): Float64Array {
  const row = new Float64Array(p);
  row.set(weights);
  return row;
}

/** Where assessors that use the scale differently are told from assessors that disagree, the verdict may change. */
function otherVerdict(plain: Test, scaled: Test): string[] {
  if (plain.p === null || scaled.p === null || plain.p < APART === scaled.p < APART) return [];
  return [
    scaled.p < APART
      ? 'only once differences in the use of the scale are told from disagreement do the mixes differ clearly'
      : 'once differences in the use of the scale are told from disagreement the mixes no longer differ clearly',
  ];
}

function rangeOf(values: Float64Array): number {
  return values.length === 0 ? 0 : Math.max(...values) - Math.min(...values);
}

function sayMixes({ status, reason, mixTest: { p } }: Pick<Core, 'status' | 'reason' | 'mixTest'>): string {
  if (p === null) return `Nothing can be said about the mixes: ${reason ?? 'they could not be tested'}.`;
  if (status !== 'estimated') return `Read with care: ${reason}.`;
  return p < APART
    ? 'The panel tells the mixes apart.'
    : 'The panel cannot tell the mixes apart; that is not proof that they are alike.';
}
