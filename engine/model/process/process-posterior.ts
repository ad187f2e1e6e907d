import { cholesky, solveLower } from '../../numeric/dense.ts';
import type { Random } from '../../numeric/random.ts';
import type { BlendSpace } from '../../region/blend-space.ts';
import type { FitInput, RegionWidths } from '../fit-types.ts';
import type { Point, PosteriorOptions, ScoreDraws, ScorePrediction } from '../posterior-types.ts';
import { tastedOf } from '../tasted.ts';
import { cellNoises } from './cell-noise.ts';
import {
  fitProcess,
  LEVEL,
  type ProcessAttribute,
  type ProcessComponent,
  REFERENCE_OWN,
} from './fit-process.ts';
import { leftOverCorrelation } from './left-over-correlation.ts';
import { summariseCells } from './process-cells.ts';
import { coverPoints } from './process-cover.ts';
import { processInputs } from './process-inputs.ts';
import { KernelParts, weigh } from './process-kernel.ts';

/** What the processes of all attributes say of any ratio; null where an attribute has no score at all. */
export interface ProcessPosterior {
  /** By attribute: whether anything is known. */
  modelled: readonly boolean[];
  mixVariance: readonly (number | null)[];
  predict(points: readonly Point[]): ScorePrediction[];
  draws(points: readonly Point[], count: number, random: Random): ScoreDraws;
}

/**
 * A Gaussian process with a Scheffé mean for every attribute (planes and products of two as parts of its prior, a
 * local part beside them), on as-weighed ratios, from any number of mixes: with few, the prior carries what they
 * cannot tell. Scores are worked in points of 100 of the scale.
 *
 * Rasmussen and Williams 2006, chapters 2 and 5; averaging in place of optimising, after Neal 1997.
 */
export function processPosterior(input: FitInput, options: PosteriorOptions = {}): ProcessPosterior {
  const prepared = prepare(input);
  const known = prepared.filter((attribute): attribute is ProcessAttribute => attribute !== null);
  const fitted = fitProcess(input.space, input.region, known);
  const models = prepared.map((attribute) => {
    if (attribute === null) return null;
    const components = fitted[known.indexOf(attribute)]!;
    return new AttributeProcess(input.space, input.region, attribute, components);
  });
  const correlation = leftOverCorrelation(prepared.map((attribute) => attribute?.summary.leftOver ?? null));
  const extra = models.map((model) => (options.for === 'population' ? (model?.populationVariance ?? 0) : 0));
  return {
    modelled: models.map((model) => model !== null),
    mixVariance: models.map((model) => model?.mixVariance ?? null),
    predict: (points) => models.map((model, k) => model?.predict(points, extra[k]!) ?? nothing(points.length)),
    draws: (points, count, random) => drawAll(models, correlation, { points, count, random, extra }),
  };
}

/** Cells, noises and scale of each attribute; null where no mix was scored. */
function prepare(input: FitInput): (ProcessAttribute | null)[] {
  const tasted = input.attributes.map((_, k) => tastedOf(input, k));
  const units = input.attributes.map(({ scale }, k) => {
    if (scale) return { middle: (scale[0] + scale[1]) / 2, unit: (scale[1] - scale[0]) / 100 };
    return unitOfScores(tasted[k]!.cups.y);
  });
  const scored = tasted.map(({ mixes }) => mixes.length > 0);
  const summaries = tasted.map((t, k) => (scored[k] ? summariseCells(t) : null));
  const known = summaries.filter((summary) => summary !== null);
  const noises = cellNoises(known, units.filter((_, k) => scored[k]).map(({ unit }) => unit));
  return summaries.map((summary, k) => {
    if (summary === null) return null;
    const noise = noises[known.indexOf(summary)]!;
    return { summary, noise, points: tasted[k]!.mixes, ...units[k]! };
  });
}

/** Where no scale is known, eight standard deviations of the scores stand for it. */
function unitOfScores(y: Float64Array): { middle: number; unit: number } {
  const middle = y.reduce((a, b) => a + b, 0) / Math.max(1, y.length);
  const spread = Math.sqrt(y.reduce((sum, v) => sum + (v - middle) ** 2, 0) / Math.max(1, y.length));
  return { middle, unit: spread > 0 ? (8 * spread) / 100 : 0.01 };
}

function nothing(points: number): ScorePrediction {
  const empty = () => new Float64Array(points);
  return { mean: empty(), standardError: empty(), low: empty(), high: empty() };
}

interface DrawRequest {
  points: readonly Point[];
  count: number;
  random: Random;
  extra: readonly number[];
}

function drawAll(
  models: readonly (AttributeProcess | null)[],
  correlation: Float64Array,
  { points, count, random, extra }: DrawRequest,
): ScoreDraws {
  const width = points.length + 1;
  const normals = models.map((_, k) => normalsOf(random.fork(`normals ${k}`), count * width));
  tie(normals, correlation);
  const drawn = models.map((model, k) => {
    if (model === null) return null;
    return model.draw(points, { count, normals: normals[k]!, random: random.fork(`shapes ${k}`), extra: extra[k]! });
  });
  return {
    count,
    points: points.length,
    scores: drawn.map((own) => own?.scores ?? new Float64Array(count * points.length)),
    reference: drawn.map((own) => own?.reference ?? null),
  };
}

function normalsOf(random: Random, count: number): Float64Array {
  const out = new Float64Array(count);
  for (let i = 0; i < count; i++) out[i] = random.normal();
  return out;
}

/** Gives the normals of different attributes the correlation of what shared cups leave over. */
function tie(normals: readonly Float64Array[], correlation: Float64Array): void {
  const k = normals.length;
  const length = normals[0]?.length ?? 0;
  const own = new Float64Array(k);
  for (let i = 0; i < length; i++) {
    for (let a = 0; a < k; a++) own[a] = normals[a]![i]!;
    for (let a = 0; a < k; a++) {
      let sum = 0;
      for (let b = 0; b <= a; b++) sum += correlation[a * k + b]! * own[b]!;
      normals[a]![i] = sum;
    }
  }
}

/** Half-width of a 95 % interval in standard errors. */
const Z95 = 1.959963984540054;

/** One attribute's average of processes. */
class AttributeProcess {
  readonly mixVariance: number;
  /** Variance that tasters from outside the panel add to its average. */
  readonly populationVariance: number;
  readonly #space: BlendSpace;
  readonly #region: RegionWidths;
  readonly #attribute: ProcessAttribute;
  readonly #components: readonly ProcessComponent[];
  readonly #cover: readonly Point[];

  constructor(
    space: BlendSpace,
    region: RegionWidths,
    attribute: ProcessAttribute,
    components: readonly ProcessComponent[],
  ) {
    const { noise, unit } = attribute;
    this.#space = space;
    this.#region = region;
    this.#attribute = attribute;
    this.#components = components;
    this.#cover = coverPoints(space, region);
    this.mixVariance = ((noise.residual + noise.assessorByMix) / noise.assessors) * unit ** 2;
    this.populationVariance = ((2 * noise.assessor) / noise.assessors) * unit ** 2;
  }
}
