import { EngineError } from '../../errors.ts';
import { bilinear } from '../../numeric/dense.ts';
import { solveUpperTransposed } from '../../numeric/orthogonal.ts';
import { type EffectCovariance, effectCovariance } from './effect-covariance.ts';
import { type Information, informationOf } from './information.ts';
import { satterthwaiteFrom } from './satterthwaite.ts';
import type { EffectWeights, JointPrediction, MixedFit, PredictionPoints } from './types.ts';

/**
 * Predicts x'β + z'u at many points at once, with the covariance of the prediction errors
 * x'(β̂-β) + z'(û-u) = σ²[x̃'(X'V⁻¹X)⁻¹x̃ + z'Λ(ΛZ'ZΛ+I)⁻¹Λz], x̃ = x - X'V⁻¹ZΛ²z: Henderson's mixed model
 * equations with the random effects eliminated (Henderson 1975, Biometrics 31, 423-447). Factors that the fit set
 * aside or estimated as zero add nothing. Points that share a weighting of random effects share its work.
 *
 * @returns values, m × m covariance and, for each point, Satterthwaite's degrees of freedom of its variance
 */
export function jointPrediction(fit: MixedFit, points: PredictionPoints): JointPrediction {
  const m = points.effectOf.length;
  if (points.fixed.length !== m * fit.p)
    throw new EngineError('bad-argument', 'points.fixed', points.fixed.length, `${m} × ${fit.p} entries`);
  const shares = points.effects.map((weights) => effectShare(fit, weights));
  const value = Float64Array.from({ length: m }, (_, j) => {
    let sum = points.effectOf[j]! < 0 ? 0 : shares[points.effectOf[j]!]!;
    for (let c = 0; c < fit.p; c++) sum += points.fixed[j * fit.p + c]! * fit.beta[c]!;
    return sum;
  });
  const info = informationOf(fit);
  if (!info) return { value, covariance: null, denDf: Array.from({ length: m }, () => null) };
  const effects = effectCovariance(fit, info, points.effects);
  const rows = Array.from({ length: m }, (_, j) => shiftedRow(fit, points, effects, j));
  return {
    value,
    covariance: covarianceOf(info, points, effects, rows),
    denDf: rows.map((row, j) => degreesOf(info, effects, points.effectOf[j]!, row)),
  };
}

function effectShare(fit: MixedFit, weights: EffectWeights): number {
  let sum = 0;
  for (const { factor, level, weight } of weights) {
    const modes = fit.effects[factor];
    if (!modes || !(level >= 0 && level < modes.length))
      throw new EngineError(
        'bad-argument',
        `effects[${factor}]`,
        level,
        'a factor of the model and one of its levels',
      );
    sum += weight * modes[level]!;
  }
  return sum;
}

/** x̃ in coefficients of Q. */
function shiftedRow(
  fit: MixedFit,
  points: PredictionPoints,
  effects: EffectCovariance,
  j: number,
): Float64Array {
  const row = points.fixed.subarray(j * fit.p, (j + 1) * fit.p);
  const out = solveUpperTransposed(fit.prepared.orthogonal.r, row);
  const z = points.effectOf[j]!;
  if (z >= 0)
    effects.shifts[z]!.forEach((v, c) => {
      out[c]! -= v;
    });
  return out;
}

function covarianceOf(
  info: Information,
  points: PredictionPoints,
  effects: EffectCovariance,
  rows: Float64Array[],
): Float64Array {
  const m = rows.length;
  const { p, sigma2 } = info;
  const count = points.effects.length;
  const out = new Float64Array(m * m);
  const left = new Float64Array(p);
  for (let i = 0; i < m; i++) {
    left.fill(0);
    for (let a = 0; a < p; a++) for (let c = 0; c < p; c++) left[c]! += rows[i]![a]! * info.unit[a * p + c]!;
    const z = points.effectOf[i]!;
    for (let j = 0; j <= i; j++) {
      const row = rows[j]!;
      const other = points.effectOf[j]!;
      let sum = z >= 0 && other >= 0 ? effects.between[z * count + other]! : 0;
      for (let c = 0; c < p; c++) sum += left[c]! * row[c]!;
      out[i * m + j] = sigma2 * sum;
      out[j * m + i] = sigma2 * sum;
    }
  }
  return out;
}

/**
 * The derivative of a prediction variance in σ_k² is Σ (e_k/σ_k²)² over the levels of k, e_k the covariance of the
 * prediction error with û_k - u_k; the residual's follows since the variance is of degree one in all of them.
 */
function degreesOf(
  info: Information,
  effects: EffectCovariance,
  z: number,
  row: Float64Array,
): number | null {
  const between = z < 0 ? 0 : effects.between[z * effects.shifts.length + z]!;
  const variance = bilinear(row, info.unit, row) + between;
  if (!(variance > 0)) return null;
  const { tau } = info.workings.reduction;
  let residual = variance;
  const gradient = info.active.map((k, i) => {
    let slope = bilinear(row, info.slopes[i]!, row);
    if (z >= 0) {
      slope += effects.lengths[z]![i]!;
      effects.crossed[z]![i]!.forEach((v, c) => {
        slope -= 2 * v * row[c]!;
      });
    }
    residual -= tau[k]! * slope;
    return slope;
  });
  return satterthwaiteFrom(info, variance, [...gradient, residual]);
}
