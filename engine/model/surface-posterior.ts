import { leveragesAt, orthogonalFactors } from '../numeric/orthogonal.ts';
import { jointPrediction } from '../panel/mixed/prediction.ts';
import type { EffectWeights } from '../panel/mixed/types.ts';
import {
  misfitAnywhere,
  panelAtMix,
  panelAverage,
  panelElsewhere,
  populationAverage,
} from './panel-effects.ts';
import type { PointTable } from './point-table.ts';
import { type PosteriorBasis, posteriorBasis } from './posterior-basis.ts';
import type { PosteriorOptions } from './posterior-types.ts';
import { DEVIATION, type Surface } from './surface.ts';

/** Degrees of freedom from which Student's t is the normal for every purpose here. */
const MANY = 1e6;

/** Fewest degrees of freedom of an interval where variance components take part. */
const FEWEST = 3;

/** What one fitted surface says of any point. */
export interface SurfacePosterior {
  surface: Surface;
  /** The fit that errors are taken from. */
  spread: Surface;
  basis: PosteriorBasis;
  /** Variance of what the model leaves out, beyond what was found. */
  untold: number;
  /** What widens intervals and draws beyond the standard error. */
  unseen: Unseen;
  /** Degrees of freedom for draws: the middle one of those at the tasted mixes. */
  df: number;
  audience: 'panel' | 'population';
  /** Variance that tasters from outside the panel add to its average; 0 for the panel itself. */
  others: number;
}

/**
 * Variances that the cups can hardly tell and that a point estimate sets to nothing. They are part of intervals and
 * draws, not of the standard error, which stays what the fitted variances give.
 */
export interface Unseen {
  /** Of the deviation of any mix from the surface, beyond what was found. */
  misfit: number;
  /** Of the panel's own reaction to a mix that it has not tasted, where no mix was tasted twice. */
  reaction: number;
}

export interface PointValues {
  mean: Float64Array;
  standardError: Float64Array;
  /** Standard error with what is unseen: what intervals are made of. */
  spread: Float64Array;
  df: Float64Array;
}

export function surfacePosterior(
  { surface, spread }: Pick<SurfacePosterior, 'surface' | 'spread'>,
  assumed: number,
  options: PosteriorOptions & { untold: number; unseen: Unseen },
): SurfacePosterior {
  const { untold, unseen } = options;
  const found = posteriorBasis(surface, spread, { assumed, deviations: unseen.misfit });
  const more = untold + unseen.misfit;
  const basis = {
    ...found,
    misfit: found.misfit + more,
    elsewhere: found.elsewhere + more + unseen.reaction,
  };
  const audience = options.for ?? 'panel';
  const { mixes } = surface.tasted;
  const { rows, set } = surface;
  const p = set.names.length;
  const untimed = { surface, spread, basis, untold, unseen, df: MANY, audience, others: 0 };
  const nowhere = new Int32Array(mixes.length).fill(-1);
  const atMixes = exactValues(untimed, rows, nowhere);
  const df = p > 0 ? middleOf(atMixes.df) : MANY;
  if (audience === 'panel') return { ...untimed, df };
  const own = exactValues({ ...untimed, audience: 'panel' }, rows, nowhere);
  const beyond = atMixes.standardError.map((error, m) => error ** 2 - own.standardError[m]! ** 2);
  return { ...untimed, df, others: Math.max(0, middleOf(beyond)) };
}

function middleOf(values: Float64Array): number {
  return Float64Array.from(values).sort()[Math.floor((values.length - 1) / 2)]!;
}

/**
 * Means, standard errors and Satterthwaite's degrees of freedom of a few points: x'β plus the mean of the assessors'
 * predicted effects, with the error of that sum.
 *
 * @param rows points × terms
 * @param tastedAs which tasted mix a point is, -1 for none
 */
export function exactValues(of: SurfacePosterior, rows: Float64Array, tastedAs: Int32Array): PointValues {
  const { surface, spread } = of;
  const { fit, set } = surface;
  const count = tastedAs.length;
  const p = set.names.length;
  const fixed = new Float64Array(count * fit.p);
  for (let i = 0; i < count; i++) fixed.set(rows.subarray(i * p, (i + 1) * p), i * fit.p);
  const places = [...new Set(tastedAs)];
  const effects = places.map((mix) => effectsAt(of, mix));
  const points = { fixed, effects, effectOf: Int32Array.from(tastedAs, (m) => places.indexOf(m)) };
  const { value } = jointPrediction(fit, { ...points, effects: effects.map(withoutMisfit) });
  const { covariance, denDf } = jointPrediction(spread.fit, points);
  if (!covariance) return assumedValues(of, rows, value);
  const variance = (i: number) => Math.max(0, covariance[i * count + i]!);
  const unseen = unseenVariances(of, rows, tastedAs);
  return {
    mean: value,
    standardError: Float64Array.from(value, (_, i) => Math.sqrt(variance(i) + of.untold)),
    spread: Float64Array.from(value, (_, i) => Math.sqrt(variance(i) + of.untold + unseen[i]!)),
    df: Float64Array.from(denDf, (nu, i) =>
      pooledDf(variance(i), usableDf(spread, nu), of.untold + unseen[i]!),
    ),
  };
}

/** By point: deviations of the tasted mixes as the coefficients take them up, the point's own, and the reaction to it. */
function unseenVariances(
  { surface, unseen }: SurfacePosterior,
  rows: Float64Array,
  tastedAs: Int32Array,
): Float64Array {
  const p = surface.set.names.length;
  const leverage = unseen.misfit > 0 ? leverages(surface, rows) : new Float64Array(tastedAs.length);
  return leverage.map((h, i) => {
    const reaction = tastedAs[i]! < 0 ? unseen.reaction : 0;
    return p === 0 ? reaction : unseen.misfit * (1 + h) + reaction;
  });
}

/** x'(X'X)⁻¹x with one row of X a mix. */
function leverages({ rows: mixes, set, tasted }: Surface, rows: Float64Array): Float64Array {
  const p = set.names.length;
  const { r } = orthogonalFactors(mixes, tasted.mixes.length, p);
  return leveragesAt(r, rows, p);
}

/**
 * Least squares has its n - p. With variance components near zero Satterthwaite's approximation can fall below one,
 * where Student's t has no spread to speak of; it is then not followed below a few.
 */
function usableDf({ fit }: Surface, nu: number | null): number {
  const exact = Object.values(fit.variances).every((v) => v === null || v === 0);
  return Math.min(MANY, exact ? fit.n - fit.p : Math.max(FEWEST, nu ?? FEWEST));
}

/** Satterthwaite's degrees of freedom of a variance and one that is known only as well as few would tell it. */
function pooledDf(variance: number, df: number, untold: number): number {
  if (untold === 0) return df;
  return (variance + untold) ** 2 / (variance ** 2 / df + untold ** 2 / FEWEST);
}

/** For tasters at large no own deviation is known, at a tasted mix neither. */
function effectsAt(
  { surface: { tasted }, spread: { fit }, audience }: SurfacePosterior,
  mix: number,
): EffectWeights {
  const { cups } = tasted;
  const level = audience === 'panel' ? panelAverage(cups, fit) : populationAverage(cups, fit);
  const own = audience === 'panel' && mix >= 0 ? panelAtMix(cups, fit, mix) : panelElsewhere(cups, fit);
  return [...level, ...own, ...misfitAnywhere(cups, fit)];
}

function withoutMisfit(effects: EffectWeights): EffectWeights {
  return effects.filter(({ factor }) => factor !== DEVIATION);
}

function assumedValues({ basis }: SurfacePosterior, rows: Float64Array, mean: Float64Array): PointValues {
  const { terms: p, covariance, mean: quantities } = basis;
  const b = quantities.length;
  const standardError = Float64Array.from(mean, (_, i) => {
    let variance = 0;
    for (let a = 0; a < p; a++)
      for (let c = 0; c < p; c++) variance += rows[i * p + a]! * covariance[a * b + c]! * rows[i * p + c]!;
    return Math.sqrt(Math.max(0, variance));
  });
  return { mean, standardError, spread: standardError, df: new Float64Array(mean.length).fill(MANY) };
}

/** The same means and standard errors for any number of points, from the basis; one number of degrees for all. */
export function manyValues(of: SurfacePosterior, table: PointTable): PointValues {
  const { surface, basis, df } = of;
  const rows = table.rows(surface.set);
  const tastedAs = table.tastedAs(surface.tasted.mixes);
  const b = basis.mean.length;
  const mean = new Float64Array(table.count);
  const spread = new Float64Array(table.count);
  const row = new Float64Array(b);
  for (let i = 0; i < table.count; i++) {
    let [value, variance] = [0, basisRow(basis, rows, { point: i, mix: tastedAs[i]! }, row)];
    for (let a = 0; a < b; a++) {
      if (row[a] === 0) continue;
      value += row[a]! * basis.mean[a]!;
      for (let c = 0; c < b; c++) variance += row[a]! * row[c]! * basis.covariance[a * b + c]!;
    }
    mean[i] = value;
    spread[i] = Math.sqrt(Math.max(0, variance));
  }
  const unseen = unseenVariances(of, rows, tastedAs);
  const standardError = spread.map((v, i) => Math.sqrt(Math.max(0, v * v - unseen[i]!)));
  return { mean, standardError, spread, df: new Float64Array(table.count).fill(df) };
}

/** Fills the combination of basis quantities that a point is; returns the variance that comes on top. */
function basisRow(
  basis: PosteriorBasis,
  rows: Float64Array,
  at: { point: number; mix: number },
  out: Float64Array,
): number {
  const p = basis.terms;
  out.fill(0);
  for (let j = 0; j < p; j++) out[j] = rows[at.point * p + j]!;
  out[basis.panel] = 1;
  const own = at.mix < 0 ? -1 : basis.mixes[at.mix]!;
  if (own >= 0) out[own] = 1;
  return own >= 0 ? basis.misfit : basis.elsewhere;
}
