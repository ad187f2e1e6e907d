import { cholesky } from '../../numeric/dense.ts';
import type { Random } from '../../numeric/random.ts';
import { withoutOrder } from '../../panel/serving-order.ts';
import { checkInput } from '../check-input.ts';
import type { FitInput, FitStatus } from '../fit-types.ts';
import { fitMixFactor } from '../mix-factor.ts';
import type { PanelPosterior, PosteriorOptions, ScoreDraws, ScorePrediction } from '../posterior-types.ts';
import { type Tasted, type TastedMix, tastedOf } from '../tasted.ts';
import { AttributeProcess, type DrawnPoints, normalsPerDraw } from './attribute-process.ts';
import { cellNoises } from './cell-noise.ts';
import { fitProcess, type ProcessAttribute, type ProcessComponent } from './fit-process.ts';
import { leftOverCorrelation } from './left-over-correlation.ts';
import { summariseCells } from './process-cells.ts';
import { Kernels } from './process-kernel.ts';

/**
 * A Gaussian process with a Scheffé mean for every attribute (planes and products of two as parts of its prior, a
 * local part beside them), on as-weighed ratios, from any number of mixes: with few, the prior carries what they
 * cannot tell. Scores are worked in points of 100 of the scale.
 *
 * Rasmussen and Williams 2006, chapters 2 and 5; averaging in place of optimising, after Neal 1997.
 */
export function processPosterior(input: FitInput, options: PosteriorOptions = {}): PanelPosterior {
  return posteriorOfProcesses(processModels(input), input, options);
}

/** The posterior of processes that are fitted already. */
export function posteriorOfProcesses(
  { prepared, models }: ProcessModels,
  input: FitInput,
  options: PosteriorOptions = {},
): PanelPosterior {
  const correlation = leftOverCorrelation(prepared.map((attribute) => attribute?.summary.leftOver ?? null));
  const asIntervals = options.search !== true;
  const extra = models.map((model) => (options.for === 'population' ? (model?.populationVariance ?? 0) : 0));
  return {
    attributes: input.attributes.map(({ id }, k) => ({ id, ...statusOf(prepared[k]!) })),
    mixVariance: models.map((model) => model?.mixVariance ?? null),
    predict: (points) =>
      models.map((model, k) => model?.predict(points, extra[k]!) ?? unknown(input, k, points.length)),
    betweenModels: (points) =>
      models.map(() => ({ variance: new Float64Array(points.length), gap: new Float64Array(points.length) })),
    draws: (points, count, random) =>
      drawAll(
        { input, models, correlation, extra, asIntervals },
        { together: points, apart: [] },
        count,
        random,
      ),
    drawsApart: ({ points, cover }, count, random) =>
      drawAll(
        { input, models, correlation, extra, asIntervals },
        { together: cover, apart: points },
        count,
        random,
      ),
  };
}

export interface ProcessModels {
  kernels: Kernels;
  /** By attribute; null where no mix was scored. */
  prepared: (ProcessAttribute | null)[];
  components: (ProcessComponent[] | null)[];
  models: (AttributeProcess | null)[];
}

/**
 * Every attribute's average of processes.
 *
 * @throws EngineError where shapes disagree or a cup's mix was never weighed
 */
export function processModels(input: FitInput): ProcessModels {
  checkInput(input);
  const prepared = prepare(input);
  const known = prepared.filter((attribute) => attribute !== null);
  const kernels = new Kernels(input.space, input.region);
  const fitted = fitProcess(kernels, known);
  const components = prepared.map((attribute) => attribute && fitted[known.indexOf(attribute)]!);
  const models = prepared.map(
    (attribute, k) => attribute && new AttributeProcess(kernels, attribute, components[k]!),
  );
  return { kernels, prepared, components, models };
}

function statusOf(
  attribute: ProcessAttribute | null,
): Pick<PanelPosterior['attributes'][number], 'status' | 'reason' | 'weights'> {
  const status: FitStatus = attribute ? 'estimated' : 'missing';
  if (attribute) return { status, reason: null, weights: [{ model: 'process', weight: 1 }] };
  return { status, reason: 'no mix was scored', weights: [] };
}

/** Cells, noises and scale of each attribute; null where no mix was scored. */
function prepare(input: FitInput): (ProcessAttribute | null)[] {
  const tasted = input.attributes.map((_, k) => orderTakenOut(tastedOf(input, k)));
  const units = input.attributes.map(({ scale }, k) => {
    if (scale) return { middle: (scale[0] + scale[1]) / 2, unit: (scale[1] - scale[0]) / 100 };
    return unitOfScores(tasted[k]!.cups.y);
  });
  const shared = tasted.map(({ mixes }, k) => sameList(mixes, tasted.slice(0, k)));
  const scored = tasted.map(({ mixes }) => mixes.length > 0);
  const summaries = tasted.map((t, k) => (scored[k] ? summariseCells(t) : null));
  const known = summaries.filter((summary) => summary !== null);
  const noises = cellNoises(
    known,
    units.filter((_, k) => scored[k]).map(({ unit }) => unit),
  );
  return summaries.map((summary, k) => {
    if (summary === null) return null;
    const noise = noises[known.indexOf(summary)]!;
    return { summary, noise, points: shared[k]!, ...units[k]! };
  });
}

/** The list of an earlier attribute that was scored on the same mixes: what is worked out for it serves both. */
function sameList(mixes: readonly TastedMix[], earlier: readonly Tasted[]): readonly TastedMix[] {
  const same = earlier.find(
    (one) => one.mixes.length === mixes.length && one.mixes.every(({ mix }, i) => mix === mixes[i]!.mix),
  );
  return same?.mixes ?? mixes;
}

/** A process has no fixed part: the order of serving is taken out of its scores beforehand, mix as a factor. */
function orderTakenOut(tasted: Tasted): Tasted {
  return tasted.cups.beside
    ? { ...tasted, cups: withoutOrder(tasted.cups, fitMixFactor(tasted).fit) }
    : tasted;
}

/** Where no scale is known, eight standard deviations of the scores stand for it. */
function unitOfScores(y: Float64Array): { middle: number; unit: number } {
  const middle = y.reduce((a, b) => a + b, 0) / Math.max(1, y.length);
  const spread = Math.sqrt(y.reduce((sum, v) => sum + (v - middle) ** 2, 0) / Math.max(1, y.length));
  return { middle, unit: spread > 0 ? (8 * spread) / 100 : 0.01 };
}

/** Nothing is known but the scale. */
function unknown(input: FitInput, k: number, points: number): ScorePrediction {
  const [low, high] = input.attributes[k]!.scale ?? [0, 100];
  const all = (value: number) => new Float64Array(points).fill(value);
  const width = high - low;
  return {
    mean: all((low + high) / 2),
    standardError: all(width / Math.sqrt(12)),
    low: all(low + 0.025 * width),
    high: all(high - 0.025 * width),
  };
}

interface Fitted {
  input: FitInput;
  models: readonly (AttributeProcess | null)[];
  correlation: Float64Array;
  extra: readonly number[];
  asIntervals: boolean;
}

function drawAll(fitted: Fitted, asked: DrawnPoints, count: number, random: Random): ScoreDraws {
  const { input, models, correlation, extra, asIntervals } = fitted;
  const points = asked.apart.length + asked.together.length;
  const normals = models.map((_, k) => normalsOf(random.fork(`normals ${k}`), count * normalsPerDraw(asked)));
  tie(normals, correlation);
  const drawn = models.map((model, k) =>
    model?.draw(asked, {
      count,
      normals: normals[k]!,
      random: random.fork(`shapes ${k}`),
      extra: extra[k]!,
      asIntervals,
    }),
  );
  return {
    count,
    points,
    scores: drawn.map((own, k) => {
      if (own) return own.scores;
      return unknown(input, k, count * points).mean;
    }),
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
  const factor = correlation.slice();
  cholesky(factor, k);
  const own = new Float64Array(k);
  for (let i = 0; i < (normals[0]?.length ?? 0); i++) {
    for (let a = 0; a < k; a++) own[a] = normals[a]![i]!;
    for (let a = 0; a < k; a++) {
      let sum = 0;
      for (let b = 0; b <= a; b++) sum += factor[a * k + b]! * own[b]!;
      normals[a]![i] = sum;
    }
  }
}
