import { EngineError } from '../errors.ts';
import { normalQuantile } from '../numeric/normal.ts';
import type { Random } from '../numeric/random.ts';
import type { Attribute } from '../panel/observations.ts';
import type { WeighingGrid } from '../region/weighing-grid.ts';
import { chancesOf, coverFor, onScale } from './chance.ts';
import type { FitInput } from './fit-types.ts';
import type { PanelPosterior, Point, ScorePrediction } from './posterior-types.ts';
import { predictPosterior } from './predict-posterior.ts';
import { type WeighingShifts, weighDraws, weighingShifts, weighingUncertainty } from './weighing-error.ts';

export interface PredictInput extends FitInput {
  points: readonly (Point & { name: string })[];
  /** Points spread over the region, which `most` and `least` are compared with in each draw. */
  cover: readonly Point[];
  /** Joint draws behind the chances; default 4000: a chance is then good to 0.8 points of a hundred. */
  draws?: number | undefined;
  random: Random;
  for?: 'panel' | 'population' | undefined;
  /** The balance the ratios are to be weighed on: what it leaves uncertain is then part of every error and chance. */
  weighing?: WeighingGrid | undefined;
}

export interface PredictedAttribute {
  id: string;
  mean: number | null;
  standardError: number | null;
  /** 95 %. */
  interval: [number, number] | null;
  /** Mean or an end of the interval was cut off at an end of the scale. */
  clipped: boolean;
  chance: number | null;
  /** Standard uncertainty from weighing, in scale units, within `standardError`; only where it was asked for. */
  weighing?: number;
  reason?: string;
}

export interface PredictedRow {
  name: string;
  ratios: Record<string, number>;
  settings: Record<string, number>;
  attributes: PredictedAttribute[];
  /** That every aimed attribute is met at once. */
  chance: number | null;
  warnings: string[];
}

export interface Predictions {
  rows: PredictedRow[];
  warnings: string[];
}

/** Shares this far outside the region's widths are still called inside. */
const OUTSIDE = 1e-6;

/**
 * What given ratios should taste like: mean, standard error and 95 % interval of the panel's average (or that of
 * new tasters), cut off at the ends of the scale, with the chance of each target and of all at once. With `weighing`
 * its variance is added to that of the scores, its normal 95 % to the interval's reach by the root of squares, and its
 * joint draws to those behind the chances.
 *
 * @throws EngineError where shapes disagree
 */
export function predictRatios(input: PredictInput): Predictions {
  const { points, cover, attributes, random, draws = 4000, weighing } = input;
  checkPoints(input);
  const posterior = predictPosterior(input, { for: input.for });
  const predictions = posterior.predict(points);
  const usable = posterior.attributes.map(({ status }) => status === 'estimated');
  const spread = coverFor(attributes, cover);
  const shifts = weighing && weighingShifts(posterior, points, weighing);
  const drawn = posterior.drawsApart({ points, cover: spread }, draws, random.fork('rows'));
  const known = shifts ? weighDraws(drawn, shifts, random.fork('weighing')) : drawn;
  const { each, joint } = chancesOf(attributes, known, usable, points.length);
  return {
    rows: points.map((point, i) => ({
      name: point.name,
      ratios: Object.fromEntries(input.space.components.map(({ id }, c) => [id, point.shares[c]!])),
      settings: Object.fromEntries(input.space.settings.map(({ id }, s) => [id, point.settings[s]!])),
      attributes: attributes.map((attribute, k) => ({
        ...predicted(attribute, posterior, predictions[k]!, { k, i, shifts }),
        chance: each[k]?.[i] ?? null,
      })),
      chance: joint?.[i] ?? null,
      warnings: outsideWarnings(input, point),
    })),
    warnings: posterior.attributes.flatMap(({ id, reason }) => (reason ? [`${id}: ${reason}`] : [])),
  };
}

function predicted(
  attribute: Attribute,
  posterior: PanelPosterior,
  { mean, standardError, low, high }: ScorePrediction,
  { k, i, shifts }: { k: number; i: number; shifts: WeighingShifts | undefined },
): Omit<PredictedAttribute, 'chance'> {
  const { status, reason } = posterior.attributes[k]!;
  const none = { id: attribute.id, standardError: null, interval: null, clipped: false };
  if (status !== 'estimated' && status !== 'no-residual') return { ...none, mean: null, reason: reason! };
  const value = onScale(attribute, mean[i]!);
  if (status === 'no-residual') return { ...none, mean: value, clipped: value !== mean[i]!, reason: reason! };
  const weighing = shifts && weighingUncertainty(shifts[k]![i]!);
  const ends =
    weighing === undefined ? [low[i]!, high[i]!] : widened(mean[i]!, [low[i]!, high[i]!], weighing);
  const interval: [number, number] = [onScale(attribute, ends[0]!), onScale(attribute, ends[1]!)];
  const clipped = value !== mean[i] || interval[0] !== ends[0] || interval[1] !== ends[1];
  const plain = { id: attribute.id, mean: value, interval, clipped };
  if (weighing === undefined) return { ...plain, standardError: standardError[i]! };
  return { ...plain, standardError: Math.hypot(standardError[i]!, weighing), weighing };
}

/** Ends whose ways from the mean are joined with the normal 95 % of an independent error by the root of squares. */
function widened(mean: number, ends: readonly [number, number], error: number): [number, number] {
  const reach = normalQuantile(0.975) * error;
  return [mean - Math.hypot(mean - ends[0], reach), mean + Math.hypot(ends[1] - mean, reach)];
}

function outsideWarnings({ space, region }: FitInput, { shares, settings }: Point): string[] {
  const beyond = space.components.filter(
    (_, c) => shares[c]! < region.low[c]! - OUTSIDE || shares[c]! > region.high[c]! + OUTSIDE,
  );
  const off = space.settings.filter(({ low, high }, s) => settings[s]! < low || settings[s]! > high);
  const names = [...beyond, ...off].map(({ id }) => id);
  return names.length > 0
    ? [`outside the allowed region (${names.join(', ')}): a guess beyond what was tasted`]
    : [];
}

function checkPoints({ points, cover, space }: PredictInput): void {
  const q = space.components.length;
  for (const [name, list] of Object.entries({ points, cover }))
    list.forEach(({ shares, settings }, i) => {
      if (shares.length !== q || settings.length !== space.settings.length)
        throw new EngineError(
          'bad-argument',
          `${name}[${i}]`,
          [shares.length, settings.length],
          `${q} shares and ${space.settings.length} settings`,
        );
    });
}
