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
  PanelPosterior,
  Point,
  PosteriorOptions,
  ScoreDraws,
  ScorePrediction,
} from './posterior-types.ts';
import { smoothFeatures } from './smooth-deviations.ts';
import { exactValues, manyValues, type PointValues } from './surface-posterior.ts';
import { TiedNormals } from './tied-normals.ts';

/** Up to this many points each interval has its own degrees of freedom; beyond, one number serves all. */
const FEW = 64;

/**
 * What the scores say of the panel's average at any ratio: x'β plus the mean of the assessors' predicted effects,
 * sessions at their realised average, cup noise averaged out. Averaged over models by their stacking weights unless
 * one is given.
 *
 * Intervals are Student's, with Satterthwaite's degrees of freedom of the prediction's own variance: for one taster
 * without random effects that is exact (n - p), and with few tasters the variances are themselves uncertain, which
 * the normal would ignore. Several models make a mixture, and the interval its quantiles.
 *
 * @throws EngineError where shapes disagree or a cup's mix was never weighed
 */
export function buildPosterior(input: FitInput, options: PosteriorOptions = {}): PanelPosterior {
  checkInput(input);
  const sets = new TermSets(input);
  const attributes = input.attributes.map((_, at) => attributePosterior(input, at, sets, options));
  const correlation = attributeCorrelation(attributes.map(({ context }) => context));
  return {
    attributes: attributes.map(({ id, status, reason, parts }) => ({
      id,
      status,
      reason,
      weights: parts.map(({ model, weight }) => ({ model, weight })),
    })),
    mixVariance: attributes.map(({ mixVariance }) => mixVariance),
    predict: (points) => {
      const table = new PointTable(points, input.space, input.region);
      const exact = points.length <= FEW || options.for === 'population';
      return attributes.map((attribute) => predictAttribute(attribute, table, exact));
    },
    draws: (points, count, random) => drawAll(attributes, correlation, { points, count, random, input }),
  };
}

function predictAttribute(attribute: AttributePosterior, table: PointTable, exact: boolean): ScorePrediction {
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
    const parts = values.map(({ weight, values: v }) => partAt(v, weight, i));
    const { mean, standardError } = averageParts(parts);
    const [low, high] = exact
      ? mixtureInterval(parts)
      : [mean - reach * standardError, mean + reach * standardError];
    out.mean[i] = mean;
    out.standardError[i] = standardError;
    out.low[i] = low;
    out.high[i] = high;
  }
  return out;
}

function partAt(values: PointValues, weight: number, i: number): PredictionPart {
  return { weight, mean: values.mean[i]!, standardError: values.standardError[i]!, df: values.df[i]! };
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
