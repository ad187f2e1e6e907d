import { orthogonalFactors, solveUpperTransposed } from '../numeric/orthogonal.ts';
import { jointPrediction } from '../panel/mixed/prediction.ts';
import type { EffectWeights, MixedFit } from '../panel/mixed/types.ts';
import { ASSESSOR_BY_MIX } from '../panel/random-effects.ts';
import { panelAtMix, panelAverage } from './panel-effects.ts';
import { DEVIATION, type Surface } from './surface.ts';

/** The key of the panel's average level in a basis. */
export const PANEL = '(panel)';

/**
 * A few quantities that make up every prediction of one surface: the terms' coefficients, the panel's own level, its
 * deviation at each tasted mix, and the reference. A point's score is a sparse combination of them.
 */
export interface PosteriorBasis {
  /** Names the quantities alike for every attribute and model, so that draws can be tied together. */
  keys: string[];
  mean: Float64Array;
  /** B × B upper triangular U with covariance U U'. */
  root: Float64Array;
  covariance: Float64Array;
  terms: number;
  panel: number;
  /** Place of each tasted mix's deviation; -1 where the model has none. */
  mixes: number[];
  reference: number;
  /** Variance of the surface's lack of fit at any ratio, where found. */
  misfit: number;
  /** Variance at an untasted ratio beyond the basis: assessor by mix over the assessors, and the misfit. */
  elsewhere: number;
}

/**
 * @param surface gives the means
 * @param spread the fit that errors are taken from: the same, or one with a deviation of each mix where the surface
 *   does not fit
 * @param assumed variance of a cup to go by where none could be estimated
 * @param deviations variance of each tasted mix about the surface that the fit does not hold: coefficients take it up
 */
export function posteriorBasis(
  surface: Surface,
  spread: Surface,
  { assumed, deviations = 0 }: { assumed: number; deviations?: number },
): PosteriorBasis {
  const { fit, tasted, set, hasReference } = surface;
  const { cups } = tasted;
  const deviates = has(fit, ASSESSOR_BY_MIX) || has(spread.fit, ASSESSOR_BY_MIX);
  const mixEffects = deviates ? tasted.mixes.map((_, m) => panelAtMix(cups, fit, m)) : [];
  const referenceEffects = deviates && hasReference ? panelAtMix(cups, fit, tasted.reference) : [];
  const effects: EffectWeights[] = [panelAverage(cups, fit), ...mixEffects, referenceEffects];
  const p = set.names.length;
  const count = p + 1 + mixEffects.length + Number(hasReference);
  const fixed = new Float64Array(count * fit.p);
  const effectOf = new Int32Array(count).fill(-1);
  for (let j = 0; j < p; j++) fixed[j * fit.p + j] = 1;
  for (let z = 0; z <= mixEffects.length; z++) effectOf[p + z] = z;
  if (hasReference) {
    fixed[(count - 1) * fit.p + p] = 1;
    effectOf[count - 1] = effects.length - 1;
  }
  const { value } = jointPrediction(fit, { fixed, effects, effectOf });
  const { covariance } = jointPrediction(spread.fit, { fixed, effects, effectOf });
  const certain = covariance ?? assumedCovariance(fit, fixed, count, assumed);
  if (covariance && deviations > 0) addDeviations(certain, surface, count, deviations);
  return {
    keys: [
      ...set.names,
      PANEL,
      ...mixEffects.map((_, m) => `(${tasted.mixes[m]!.mix})`),
      ...(hasReference ? ['(reference)'] : []),
    ],
    mean: value,
    root: upperRoot(certain, count),
    covariance: certain,
    terms: p,
    panel: p,
    mixes: tasted.mixes.map((_, m) => (deviates ? p + 1 + m : -1)),
    reference: hasReference ? count - 1 : -1,
    misfit: variance(spread.fit, DEVIATION),
    elsewhere:
      variance(spread.fit, ASSESSOR_BY_MIX) / cups.assessors.length + variance(spread.fit, DEVIATION),
  };
}

function has(fit: MixedFit, name: string): boolean {
  return variance(fit, name) > 0;
}

function variance(fit: MixedFit, name: string): number {
  return fit.variances[name] ?? 0;
}

/** Adds variance · (X'X)⁻¹ to the coefficients' block, one row of X a mix. */
function addDeviations(
  out: Float64Array,
  { rows, set, tasted }: Surface,
  count: number,
  variance: number,
): void {
  const p = set.names.length;
  const { r } = orthogonalFactors(rows, tasted.mixes.length, p);
  const unit = (j: number) => Float64Array.from({ length: p }, (_, i) => Number(i === j));
  const columns = Array.from({ length: p }, (_, j) => solveUpperTransposed(r, unit(j)));
  for (let i = 0; i < p; i++)
    for (let j = 0; j < p; j++)
      out[i * count + j]! += variance * columns[i]!.reduce((sum, v, k) => sum + v * columns[j]![k]!, 0);
}

/** What least squares would give if a cup had the assumed variance. */
function assumedCovariance(fit: MixedFit, fixed: Float64Array, count: number, assumed: number): Float64Array {
  const { r } = fit.prepared.orthogonal;
  const p = fit.p;
  const rows = Array.from({ length: count }, (_, i) =>
    solveUpperTransposed(r, fixed.subarray(i * p, (i + 1) * p)),
  );
  const out = new Float64Array(count * count);
  for (let i = 0; i < count; i++)
    for (let j = 0; j < count; j++)
      out[i * count + j] = assumed * rows[i]!.reduce((sum, v, k) => sum + v * rows[j]![k]!, 0);
  return out;
}

/**
 * U upper triangular with U U' = C, from the last row up; a quantity that those after it determine gets a zero
 * column. Upper, not lower: then the k-th random number stands for the same direction of the data in a model and in
 * a richer one, and can be shared between attributes.
 */
export function upperRoot(c: Float64Array, n: number): Float64Array {
  const u = new Float64Array(n * n);
  for (let j = n - 1; j >= 0; j--) {
    let pivot = c[j * n + j]!;
    for (let k = j + 1; k < n; k++) pivot -= u[j * n + k]! ** 2;
    if (!(pivot > 1e-12 * c[j * n + j]!)) continue;
    const diagonal = Math.sqrt(pivot);
    u[j * n + j] = diagonal;
    for (let i = 0; i < j; i++) {
      let sum = c[i * n + j]!;
      for (let k = j + 1; k < n; k++) sum -= u[i * n + k]! * u[j * n + k]!;
      u[i * n + j] = sum / diagonal;
    }
  }
  return u;
}
