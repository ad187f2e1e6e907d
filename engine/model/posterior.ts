import type { Random } from '../numeric/random.ts';
import { studentQuantile } from '../numeric/student.ts';
import { TermSets } from './attribute-context.ts';
import { attributeCorrelation } from './attribute-correlation.ts';
import { type AttributePosterior, attributePosterior } from './attribute-posterior.ts';
import { checkInput } from './check-input.ts';
import { drawAttribute } from './draw-attribute.ts';
import type { FitInput } from './fit-types.ts';
import { averageParts, mixtureInterval, type PredictionPart } from './mixture-interval.ts';
import { PointTable } from './point-table.ts';
import type {
  BetweenModels,
  PanelPosterior,
  Point,
  PosteriorOptions,
  ScoreDraws,
  ScorePrediction,
} from './posterior-types.ts';
import { PROCESS_DF } from './process/attribute-process.ts';
import { type ProcessModels, posteriorOfProcesses, processModels } from './process/process-posterior.ts';
import { smoothFeatures } from './smooth-deviations.ts';
import { exactValues, manyValues, type PointValues } from './surface-posterior.ts';
import { TiedNormals } from './tied-normals.ts';

/** Up to this many points each interval has its own degrees of freedom; beyond, one number serves all. */
const FEW = 64;

/**
 * What the scores say of the panel's average at any ratio: x'β plus the mean of the assessors' predicted effects,
 * sessions at their realised average, cup noise averaged out. Averaged over sums of terms and a Gaussian process by
 * their stacking weights unless one sum is given.
 *
 * Intervals are Student's, with Satterthwaite's degrees of freedom of the prediction's own variance: for one taster
 * without random effects that is exact (n - p), and with few tasters the variances are themselves uncertain, which
 * the normal would ignore. Several models make a mixture, and the interval its quantiles.
 *
 * @param fitted processes of this very input, where they are fitted already
 * @throws EngineError where shapes disagree or a cup's mix was never weighed
 */
export function buildPosterior(
  input: FitInput,
  options: PosteriorOptions = {},
  fitted?: ProcessModels,
): PanelPosterior {
  checkInput(input);
  const sets = new TermSets(input);
  const processes = input.model === 'auto' ? (fitted ?? processModels(input)) : null;
  const beside = processes && posteriorOfProcesses(processes, input, options);
  const attributes = input.attributes.map((_, at) =>
    attributePosterior(input, at, { sets, processes, options }),
  );
  const asked = attributes.some(({ process }) => process > 0) ? beside : null;
  const correlation = attributeCorrelation(attributes.map(({ context }) => context));
  const drawn = (
    points: readonly Point[],
    process: (count: number, random: Random) => ScoreDraws,
    { count, random }: { count: number; random: Random },
  ) => {
    const terms = (n: number) => drawAll(attributes, correlation, { points, count: n, random, input });
    if (!asked) return terms(count);
    const from = { terms, process: (n: number) => process(n, random.fork('process')) };
    const shares = attributes.map((attribute) => attribute.process);
    return drawnFromBoth(from, shares, { count, points: points.length, random });
  };
  return {
    attributes: attributes.map(({ id, status, reason, parts, process }) => ({
      id,
      status,
      reason,
      weights: [
        ...parts.map(({ model, weight }) => ({ model, weight })),
        ...(process > 0 ? [{ model: 'process' as const, weight: process }] : []),
      ],
    })),
    mixVariance: attributes.map(({ mixVariance }) => mixVariance),
    predict: (points) => {
      const table = new PointTable(points, input.space, input.region);
      const exact = points.length <= FEW || options.for === 'population';
      const processed = asked?.predict(points);
      return attributes.map((attribute, at) =>
        predictAttribute(attribute, table, { exact, process: processed?.[at] }),
      );
    },
    betweenModels: (points) => {
      const table = new PointTable(points, input.space, input.region);
      const processed = asked?.predict(points);
      return attributes.map((attribute, at) => betweenModels(attribute, table, processed?.[at]));
    },
    draws: (points, count, random) =>
      drawn(points, (n, own) => asked!.draws(points, n, own), { count, random }),
    drawsApart: (by, count, random) =>
      drawn([...by.points, ...by.cover], (n, own) => asked!.drawsApart(by, n, own), { count, random }),
  };
}

function predictAttribute(
  attribute: AttributePosterior,
  table: PointTable,
  { exact, process }: { exact: boolean; process: ScorePrediction | undefined },
): ScorePrediction {
  const share = attribute.process;
  if (share === 1) return process!;
  if (attribute.parts.length === 0) return predictIgnorance(attribute, table.count);
  const values = attribute.parts.map(({ weight, posterior }) => ({
    weight,
    values: exact
      ? exactValues(
          posterior,
          table.rows(posterior.surface.set),
          table.tastedAs(posterior.surface.tasted.mixes),
        )
      : manyValues(posterior, table),
  }));
  const out = emptyPrediction(table.count);
  const reach = exact ? 0 : roughReach(values.map(({ values: v }) => v));
  for (let i = 0; i < table.count; i++) {
    const partsWith = (errors: 'standardError' | 'spread') => {
      const parts = values.map(({ weight, values: v }) => partAt(v, weight, i, v[errors]));
      return share > 0 ? [...parts, processPart(process!, share, i)] : parts;
    };
    const { mean, standardError } = averageParts(partsWith('standardError'));
    const wide = partsWith('spread');
    const spread = averageParts(wide).standardError;
    const [low, high] = exact ? mixtureInterval(wide) : [mean - reach * spread, mean + reach * spread];
    out.mean[i] = mean;
    out.standardError[i] = standardError;
    out.low[i] = low;
    out.high[i] = high;
  }
  return out;
}

function betweenModels(
  { parts, process }: AttributePosterior,
  table: PointTable,
  processed: ScorePrediction | undefined,
): BetweenModels {
  const models = [
    ...parts.map(({ weight, posterior }) => ({ weight, mean: manyValues(posterior, table).mean })),
    ...(process > 0 ? [{ weight: process, mean: processed!.mean }] : []),
  ];
  const out = { variance: new Float64Array(table.count), gap: new Float64Array(table.count) };
  if (models.length < 2) return out;
  for (let i = 0; i < table.count; i++) {
    const middle = models.reduce((sum, { weight, mean }) => sum + weight * mean[i]!, 0);
    out.variance[i] = models.reduce((sum, { weight, mean }) => sum + weight * (mean[i]! - middle) ** 2, 0);
    const means = models.map(({ mean }) => mean[i]!);
    out.gap[i] = Math.max(...means) - Math.min(...means);
  }
  return out;
}

function partAt(values: PointValues, weight: number, i: number, errors: Float64Array): PredictionPart {
  return { weight, mean: values.mean[i]!, standardError: errors[i]!, df: values.df[i]! };
}

function processPart({ mean, standardError }: ScorePrediction, weight: number, i: number): PredictionPart {
  return { weight, mean: mean[i]!, standardError: standardError[i]!, df: PROCESS_DF };
}

/** Standard errors to either side, for all points alike: good enough to screen thousands of them. */
function roughReach(values: readonly PointValues[]): number {
  const fewest = Math.min(...values.map(({ df }) => df[0] ?? Number.POSITIVE_INFINITY));
  return studentQuantile(0.975, fewest);
}

/** Uniform over what is possible. */
function predictIgnorance({ instead: { low, high } }: AttributePosterior, count: number): ScorePrediction {
  const out = emptyPrediction(count);
  out.mean.fill((low + high) / 2);
  out.standardError.fill((high - low) / Math.sqrt(12));
  out.low.fill(low + 0.025 * (high - low));
  out.high.fill(high - 0.025 * (high - low));
  return out;
}

function emptyPrediction(count: number): ScorePrediction {
  return {
    mean: new Float64Array(count),
    standardError: new Float64Array(count),
    low: new Float64Array(count),
    high: new Float64Array(count),
  };
}

/**
 * Each attribute takes its share of the draws from the process, the rest from the sums of terms. Draws stand in an
 * order that is alike for all: the process fills them from the front, the terms from the back.
 */
function drawnFromBoth(
  from: { terms: (count: number) => ScoreDraws; process: (count: number) => ScoreDraws },
  shares: readonly number[],
  { count, points, random }: { count: number; points: number; random: Random },
): ScoreDraws {
  const order = random.fork('terms or process').shuffle(Array.from({ length: count }, (_, s) => s));
  const front = shares.map((share) => Math.round(share * count));
  const process = from.process(Math.max(...front));
  const terms = from.terms(count - Math.min(...front));
  /** Where the draw that stands at a place of the order comes from. */
  const sourceAt = (place: number, k: number) =>
    place < front[k]! ? { draws: process, s: place } : { draws: terms, s: count - 1 - place };
  return {
    count,
    points,
    scores: shares.map((_, k) => {
      const out = new Float64Array(count * points);
      order.forEach((to, place) => {
        const { draws, s } = sourceAt(place, k);
        out.set(draws.scores[k]!.subarray(s * points, (s + 1) * points), to * points);
      });
      return out;
    }),
    reference: shares.map((_, k) => {
      const needed = [...(front[k]! > 0 ? [process] : []), ...(front[k]! < count ? [terms] : [])];
      if (needed.some(({ reference }) => reference[k] === null)) return null;
      const out = new Float64Array(count);
      order.forEach((to, place) => {
        const { draws, s } = sourceAt(place, k);
        out[to] = draws.reference[k]![s]!;
      });
      return out;
    }),
  };
}

function drawAll(
  attributes: readonly AttributePosterior[],
  correlation: Float64Array,
  {
    points,
    count,
    random,
    input,
  }: { points: readonly Point[]; count: number; random: Random; input: FitInput },
): ScoreDraws {
  const table = new PointTable(points, input.space, input.region);
  const normals = new TiedNormals(correlation, attributes.length, count, random.fork('tied'));
  const features = smoothFeatures(table, random.fork('waves'));
  const drawn = attributes.map((attribute, at) =>
    drawAttribute(attribute, {
      table,
      features,
      normals,
      attribute: at,
      attributes: attributes.length,
      count,
      random: random.fork(`attribute ${at}`),
    }),
  );
  return {
    count,
    points: points.length,
    scores: drawn.map(({ scores }) => scores),
    reference: drawn.map(({ reference }) => reference),
  };
}
