import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { multiply } from '../numeric/dense.ts';
import { complementOfColumns } from '../numeric/orthogonal.ts';
import { spanOf } from '../region/affine-hull.ts';
import { fitMeans, type MeanFit } from './mean-model.ts';
import type { MixSummary } from './mix-summary.ts';

/** A model of the means with the variance of mixes about it, estimated by restricted maximum likelihood. */
export interface NuggetFit {
  fit: MeanFit;
  /** How much true means scatter about the model, beyond the panel's noise: lack of fit as a variance. */
  nugget: number;
}

const GRID = 40;
const STEPS = 60;

/**
 * y ~ N(Xβ, C + τ²I) with τ² ≥ 0. Where the panel's noise C is not known (one cup a mix), V = s²/cups and `nugget`
 * is 0: noise and lack of fit cannot be told apart, and s² holds both.
 * @returns null where the columns are dependent, or where nothing is left to estimate s² from
 */
export function fitNugget({ means, covariance, cups }: MixSummary, x: Float64Array): NuggetFit | null {
  const m = means.length;
  if (covariance === null) return unknownNoise(means, x, cups);
  const at = (nugget: number) => fitMeans(means, x, withDiagonal(covariance, m, nugget));
  const none = at(0);
  if (none === null) return null;
  const scale = spread(means);
  if (!(scale > 0) || x.length >= m * m) return { fit: none, nugget: 0 };
  const score = restrictedLikelihood(means, x, covariance);
  const found = maximise(score, scale);
  const nugget = score(found) > score(0) + 1e-10 ? found : 0;
  return { fit: nugget > 0 ? at(nugget)! : none, nugget };
}

/**
 * The log restricted likelihood as a function of τ², constants left out. With K an orthonormal basis of what X
 * leaves (Harville 1974) it is that of K'y ~ N(0, K'CK + τ²I), and with K'CK = U D U' each τ² costs m - p terms:
 * -½ Σ [log(dᵢ + τ²) + (U'K'y)ᵢ² / (dᵢ + τ²)].
 */
export function restrictedLikelihood(
  y: Float64Array,
  x: Float64Array,
  covariance: Float64Array,
): (nugget: number) => number {
  const m = y.length;
  const p = x.length / m;
  const columns = Array.from({ length: p }, (_, j) => Array.from({ length: m }, (_, i) => x[i * p + j]!));
  const contrasts = complementOfColumns(spanOf(columns), m);
  const n = contrasts.length;
  const k = Float64Array.from({ length: m * n }, (_, at) => contrasts[at % n]![Math.floor(at / n)]!);
  const inner = new Matrix(contrasts.map((row) => [...multiply(multiply(row, covariance, m), k, m)]));
  const { realEigenvalues, eigenvectorMatrix } = new EigenvalueDecomposition(inner, {
    assumeSymmetric: true,
  });
  const seen = multiply(Float64Array.from(y), k, m);
  const squares = realEigenvalues.map((_, e) => {
    let sum = 0;
    for (let i = 0; i < n; i++) sum += eigenvectorMatrix.get(i, e) * seen[i]!;
    return sum * sum;
  });
  return (nugget) =>
    -0.5 *
    squares.reduce((sum, square, e) => {
      const variance = Math.max(Number.MIN_VALUE, realEigenvalues[e]! + nugget);
      return sum + Math.log(variance) + square / variance;
    }, 0);
}

function unknownNoise(means: Float64Array, x: Float64Array, cups: Float64Array): NuggetFit | null {
  const m = means.length;
  const p = x.length / m;
  const unit = new Float64Array(m * m);
  for (let i = 0; i < m; i++) unit[i * m + i] = 1 / cups[i]!;
  const first = fitMeans(means, x, unit);
  if (first === null || m <= p) return null;
  const left = means.reduce((sum, value, i) => sum + value * first.weights[i]!, 0) / (m - p);
  if (!(left > 1e-24 * spread(means))) return null;
  const fit = fitMeans(
    means,
    x,
    unit.map((v) => v * left),
  );
  return fit && { fit, nugget: 0 };
}

/** The best τ² on a grid of powers around the spread of the means, refined by golden section. */
function maximise(score: (nugget: number) => number, scale: number): number {
  const at = (k: number) => scale * 10 ** (-6 + (8 * k) / GRID);
  let best = 0;
  for (let k = 1; k <= GRID; k++) if (score(at(k)) > score(at(best))) best = k;
  let [low, high] = [Math.max(0, best - 1), Math.min(GRID, best + 1)];
  const ratio = (Math.sqrt(5) - 1) / 2;
  for (let i = 0; i < STEPS && high - low > 1e-7; i++) {
    const [a, b] = [high - ratio * (high - low), low + ratio * (high - low)];
    if (score(at(a)) < score(at(b))) low = a;
    else high = b;
  }
  return at((low + high) / 2);
}

function withDiagonal(covariance: Float64Array, m: number, nugget: number): Float64Array {
  const out = covariance.slice();
  for (let i = 0; i < m; i++) out[i * m + i]! += nugget;
  return out;
}

function spread(means: Float64Array): number {
  const centre = means.reduce((sum, v) => sum + v, 0) / means.length;
  return means.reduce((sum, v) => sum + (v - centre) ** 2, 0) / means.length;
}
