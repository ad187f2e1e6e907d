import { jointPrediction } from '../panel/mixed/prediction.ts';
import type { EffectWeights } from '../panel/mixed/types.ts';
import { panelAtMix, panelAverage, panelElsewhere, populationAverage } from './panel-effects.ts';
import type { PointTable } from './point-table.ts';
import { type PosteriorBasis, posteriorBasis } from './posterior-basis.ts';
import type { PosteriorOptions } from './posterior-types.ts';
import { DEVIATION, type Surface } from './surface.ts';

/** Degrees of freedom from which Student's t is the normal for every purpose here. */
const MANY = 1e6;

/** What one fitted surface says of any point. */
export interface SurfacePosterior {
  surface: Surface;
  basis: PosteriorBasis;
  /** Degrees of freedom for draws: the middle one of those at the tasted mixes. */
  df: number;
  audience: 'panel' | 'population';
}

export interface PointValues {
  mean: Float64Array;
  standardError: Float64Array;
  df: Float64Array;
}

export function surfacePosterior(
  surface: Surface,
  assumed: number,
  options: PosteriorOptions,
): SurfacePosterior {
  const basis = posteriorBasis(surface, assumed);
  const audience = options.for ?? 'panel';
  const { mixes } = surface.tasted;
  const { rows, set } = surface;
  const p = set.terms.length;
  const atMixes = exactValues(
    { surface, basis, df: MANY, audience },
    rows,
    new Int32Array(mixes.length).fill(-1),
  );
  const sorted = Float64Array.from(atMixes.df).sort();
  return { surface, basis, df: p > 0 ? sorted[Math.floor((mixes.length - 1) / 2)]! : MANY, audience };
}

/**
 * Means, standard errors and Satterthwaite's degrees of freedom of a few points: x'β plus the mean of the assessors'
 * predicted effects, with the error of that sum.
 *
 * @param rows points × terms
 * @param tastedAs which tasted mix a point is, -1 for none
 */
export function exactValues(of: SurfacePosterior, rows: Float64Array, tastedAs: Int32Array): PointValues {
  const { surface, basis, audience } = of;
  const { fit, set, tasted } = surface;
  const count = tastedAs.length;
  const p = set.terms.length;
  const fixed = new Float64Array(count * fit.p);
  for (let i = 0; i < count; i++) fixed.set(rows.subarray(i * p, (i + 1) * p), i * fit.p);
  const level = audience === 'panel' ? panelAverage(tasted.cups, fit) : populationAverage(tasted.cups, fit);
  const places = [...new Set(tastedAs)];
  const effects: EffectWeights[] = places.map((m) => [...level, ...deviationsAt(of, m)]);
  const effectOf = Int32Array.from(tastedAs, (m) => places.indexOf(m));
  const found = jointPrediction(fit, { fixed, effects, effectOf });
  if (!found.covariance) return assumedValues(of, rows, found.value);
  const variance = Float64Array.from({ length: count }, (_, i) => found.covariance![i * count + i]!);
  return {
    mean: found.value,
    standardError: variance.map((v) => Math.sqrt(Math.max(0, v))),
    df: Float64Array.from(found.denDf, (nu) => Math.min(MANY, nu ?? basis.mean.length)),
  };
}

/** For tasters at large no own deviation is known, at a tasted mix neither. */
function deviationsAt({ surface, audience }: SurfacePosterior, mix: number): EffectWeights {
  const { tasted, fit } = surface;
  const elsewhere = panelElsewhere(tasted.cups, fit);
  if (mix < 0) return elsewhere;
  const own = panelAtMix(tasted.cups, fit, mix);
  if (audience === 'panel') return own;
  return [...elsewhere.filter((e) => e.factor !== DEVIATION), ...own.filter((e) => e.factor === DEVIATION)];
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
  return { mean, standardError, df: new Float64Array(mean.length).fill(MANY) };
}

/** The same means and standard errors for any number of points, from the basis; one number of degrees for all. */
export function manyValues(of: SurfacePosterior, table: PointTable): PointValues {
  const { surface, basis, df } = of;
  const rows = table.rows(surface.set.terms);
  const tastedAs = table.tastedAs(surface.tasted.mixes);
  const b = basis.mean.length;
  const mean = new Float64Array(table.count);
  const standardError = new Float64Array(table.count);
  const row = new Float64Array(b);
  for (let i = 0; i < table.count; i++) {
    const elsewhere = basisRow(basis, rows, { point: i, mix: tastedAs[i]! }, row);
    let [value, variance] = [0, elsewhere];
    for (let a = 0; a < b; a++) {
      if (row[a] === 0) continue;
      value += row[a]! * basis.mean[a]!;
      for (let c = 0; c < b; c++) variance += row[a]! * row[c]! * basis.covariance[a * b + c]!;
    }
    mean[i] = value;
    standardError[i] = Math.sqrt(Math.max(0, variance));
  }
  return { mean, standardError, df: new Float64Array(table.count).fill(df) };
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
  return own >= 0 ? 0 : basis.elsewhere;
}
