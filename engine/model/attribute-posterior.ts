import { variance as populationVariance } from 'simple-statistics';
import type { Attribute } from '../panel/observations.ts';
import { ASSESSOR_BY_MIX } from '../panel/random-effects.ts';
import { type AttributeContext, attributeContext, type TermSets } from './attribute-context.ts';
import { expectedMisfit } from './expected-misfit.ts';
import type { FitInput, FitStatus, ModelName } from './fit-types.ts';
import { againstCups } from './lack-of-fit.ts';
import { pickSurface } from './pick-surface.ts';
import type { PointTable } from './point-table.ts';
import type { PosteriorOptions } from './posterior-types.ts';
import type { ProcessModels } from './process/process-posterior.ts';
import { DEVIATION, fitSurface, type Surface } from './surface.ts';
import { type SurfacePosterior, surfacePosterior, type Unseen } from './surface-posterior.ts';

/**
 * Lack of fit counts as found, and its variance is part of every prediction, as soon as the test finds it more likely
 * than not. Waiting until it is significant leaves intervals too narrow where few mixes give the test no power: with
 * 0.05 the linear model's 95 % intervals held 87 to 91 % in simulated worlds at 1.5 mixes a term, with 0.5 they held
 * 93 to 96 %.
 */
const FOUND = 0.5;
/** From so many mixes a term on, a test that finds no lack of fit is believed of every model. */
const TOLD_FROM = 2;
/**
 * What a curved polynomial leaves out of a true surface, as a part of the variance that it shows over the region: the
 * scale of what is thought of it before the mixes are looked at, where they show no lack of fit. Without it 95 %
 * intervals of attributes in which none was found held 82 to 85 % in simulated worlds. Tuned there (docs/coverage.md).
 */
const CURVED_LEAVES_OUT = 0.005;
/**
 * The part of single cups' variance that is the taster's own reaction to the mix, where no mix was tasted twice and so
 * nobody can tell: the middle one (0.19) of the 23 attributes of an open cream cheese panel with three repeats, as
 * `readPanel` estimates them (M. B. Frøst, University of Copenhagen, data set Cream).
 */
const OWN_REACTION = 0.2;
const NOTHING_UNSEEN: Unseen = { misfit: 0, reaction: 0 };
/** Models with less weight are left out of the average: nearly all of it is what draws weights toward equal. */
const WORTH_AVERAGING = 0.03;
/** Where no noise can be estimated, a cup is taken to scatter by this part of the scale. From memory of practice. */
const ASSUMED_NOISE = 0.1;

/** The models that one attribute is predicted from, or why there is none and what is known instead. */
export interface AttributePosterior {
  id: string;
  status: FitStatus;
  reason: string | null;
  context: AttributeContext | null;
  /** Sums of terms; their weights and the process's sum to one. */
  parts: { model: ModelName; weight: number; posterior: SurfacePosterior }[];
  /** Weight of the Gaussian process. */
  process: number;
  /** Without a model: the one score everybody gave, or else nothing but the scale. */
  instead: { low: number; high: number };
  mixVariance: number | null;
}

export function attributePosterior(
  input: FitInput,
  at: number,
  by: { sets: TermSets; processes: ProcessModels | null; options: PosteriorOptions },
): AttributePosterior {
  const { processes, options } = by;
  const attribute = input.attributes[at]!;
  const { context, status, reason } = attributeContext(input, at, by);
  const alone =
    options.search === true && processes?.models[at] ? processAlone(attribute, processes, at) : null;
  const scale = attribute.scale ?? [0, 100];
  if (!context && alone) return alone;
  if (!context)
    return without(attribute, {
      status,
      reason,
      context: null,
      instead: constantOf(input, at, status) ?? scale,
    });
  const picked = pickSurface(context, input.model);
  if (alone && picked.surface?.fit.status !== 'estimated') return { ...alone, context };
  if (!picked.surface)
    return without(attribute, { status: 'not-estimable', reason: picked.reason, context, instead: scale });
  const assumed = (ASSUMED_NOISE * (scale[1] - scale[0])) ** 2;
  const { terms, process } = averagedOver(context, picked.weights);
  const parts = terms.map(({ model, weight, fits }) => ({
    model,
    weight,
    posterior: surfacePosterior(fits, assumed, { ...options, ...leftOut(context, fits) }),
  }));
  return {
    id: attribute.id,
    status: picked.surface.fit.status === 'estimated' ? 'estimated' : 'no-residual',
    reason: picked.surface.fit.reason,
    context,
    parts,
    process,
    instead: { low: scale[0], high: scale[1] },
    mixVariance: noiseOfOneMix(context, picked.surface),
  };
}

/** From the first mix on: what a process says where there is no sum of terms to weigh it against. */
function processAlone({ id, scale }: Attribute, { models }: ProcessModels, at: number): AttributePosterior {
  const [low, high] = scale ?? [0, 100];
  const mixVariance = models[at]!.mixVariance;
  return {
    ...{ id, status: 'estimated', reason: null, context: null, parts: [], process: 1 },
    ...{ instead: { low, high }, mixVariance },
  };
}

function without(
  { id }: Attribute,
  {
    status,
    reason,
    context,
    instead,
  }: {
    status: FitStatus;
    reason: string;
    context: AttributeContext | null;
    instead: readonly [number, number];
  },
): AttributePosterior {
  const [low, high] = instead;
  return { id, status, reason, context, parts: [], process: 0, instead: { low, high }, mixVariance: null };
}

function constantOf({ servings }: FitInput, at: number, status: FitStatus): [number, number] | null {
  if (status !== 'constant') return null;
  const value = servings.find((s) => s.scores[at] !== null)!.scores[at]!;
  return [value, value];
}

/**
 * The surfaces to average, each with its own lack of fit where found, and the process's weight; all weights sum to
 * one. Where a surface leaves no noise to go by, the process has no say.
 */
function averagedOver(context: AttributeContext, weights: readonly { model: ModelName; weight: number }[]) {
  const worth = weights.filter(({ weight }) => weight >= WORTH_AVERAGING);
  const own = worth.find(({ model }) => model === 'process')?.weight ?? 0;
  const fitted = worth.flatMap(({ model, weight }) => {
    const fits = predictiveFits(context, model);
    return fits ? [{ model, weight, fits }] : [];
  });
  const withNoise = fitted.filter(({ fits }) => fits.surface.fit.status === 'estimated');
  const kept = withNoise.length > 0 ? withNoise : fitted;
  const known = kept.reduce((sum, { weight }) => sum + weight, 0);
  const process = withNoise.length === fitted.length ? own : 0;
  const total = known + process;
  return {
    terms: kept.map((part) => ({ ...part, weight: part.weight / total })),
    process: process / total,
  };
}

/** The surface for means, and the fit that errors are taken from: with a deviation of each mix where it misses. */
function predictiveFits(
  context: AttributeContext,
  model: ModelName,
): { surface: Surface; spread: Surface } | null {
  if (model === 'process') return null;
  const set = context.setOf(model);
  const { surface } = fitSurface(context.tasted, set);
  if (!surface) return null;
  const { p } = againstCups(surface, context.mixModel.fit, 'satterthwaite');
  if (p === null || p >= FOUND) return { surface, spread: surface };
  const { surface: spread } = fitSurface(context.tasted, set, true);
  return { surface, spread: spread?.fit.status === 'estimated' ? spread : surface };
}

/** What the model leaves out beyond what was found. */
function leftOut(
  { summary, cover }: AttributeContext,
  { surface, spread }: { surface: Surface; spread: Surface },
): { untold: number; unseen: Unseen } {
  const { set, tasted, rows, fit } = surface;
  const { cups } = tasted;
  const found = spread.fit.variances[DEVIATION] ?? 0;
  const shown = shownVariance(surface, cover);
  const few = tasted.mixes.length < TOLD_FROM * set.names.length;
  const untold = few ? Math.max(0, set.untold * shown - found) : 0;
  if (cups.assessors.length < 2 || fit.status !== 'estimated') return { untold, unseen: NOTHING_UNSEEN };
  const zero = set.untold === 0 && found === 0;
  const misfit = zero ? expectedMisfit(summary, rows, Math.sqrt(CURVED_LEAVES_OUT * shown)) : 0;
  const repeated = spread.random.factors.some(({ name }) => name === ASSESSOR_BY_MIX);
  const reaction = repeated ? 0 : (OWN_REACTION * (spread.fit.sigma2 ?? 0)) / cups.assessors.length;
  return { untold, unseen: { misfit, reaction } };
}

/** Variance of the surface over the region. */
function shownVariance({ set, fit }: Surface, points: PointTable): number {
  const rows = points.rows(set);
  const p = set.names.length;
  const values = Array.from({ length: points.count }, (_, i) => {
    let sum = 0;
    for (let j = 0; j < p; j++) sum += rows[i * p + j]! * fit.beta[j]!;
    return sum;
  });
  return populationVariance(values);
}

/** Cup noise and assessor by mix, over the assessors. */
function noiseOfOneMix({ mixModel, tasted }: AttributeContext, surface: Surface): number | null {
  const fit =
    mixModel.fit.sigma2 !== null && mixModel.fit.status === 'estimated' ? mixModel.fit : surface.fit;
  if (fit.sigma2 === null || fit.status !== 'estimated') return null;
  return (fit.sigma2 + (fit.variances[ASSESSOR_BY_MIX] ?? 0)) / tasted.cups.assessors.length;
}
