import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { EngineError } from '../../errors.ts';
import { bilinear, dot, inverseOfPositive, multiply } from '../../numeric/dense.ts';
import { fisherUpper } from '../../numeric/fisher.ts';
import { solveUpperTransposed } from '../../numeric/orthogonal.ts';
import { type Information, informationOf } from './information.ts';
import { adjustmentOf, kenwardRogerTest } from './kenward-roger.ts';
import { combinedDf, satterthwaiteFrom } from './satterthwaite.ts';
import type { DegreesMethod, MixedFit, WaldTest } from './types.ts';

/** Directions whose variance is below this share of the largest are no directions of their own. */
const RANK = Math.sqrt(Number.EPSILON);

/**
 * Tests that every row of L gives L β = 0. L may be rank deficient: it is reduced to the eigenvectors of its
 * covariance, and `numDf` is what is left.
 *
 * F is the mean of the squared t along those eigenvectors. By Satterthwaite's method the denominator combines the
 * degrees of freedom of the single directions (Fai and Cornelius 1996; Kuznetsova, Brockhoff and Christensen 2017);
 * by Kenward and Roger's the adjusted covariance is used and F is scaled.
 *
 * @param rows r × p
 */
export function waldTest(
  fit: MixedFit,
  rows: readonly ArrayLike<number>[],
  method: DegreesMethod = 'satterthwaite',
): WaldTest {
  if (rows.some((row) => row.length !== fit.p))
    throw new EngineError(
      'bad-argument',
      'rows',
      rows.map((r) => r.length),
      `rows of ${fit.p} weights`,
    );
  const info = informationOf(fit);
  if (!info) return without(rows.length, fit.reason ?? 'no residual variance was estimated');
  const directions = independentDirections(
    info,
    rows.map((row) => solveUpperTransposed(fit.prepared.orthogonal.r, row)),
  );
  if (directions.length === 0) return without(0, 'there is nothing to test');
  const values = directions.map((d) => valueAlong(fit, d));
  return method === 'satterthwaite'
    ? bySatterthwaite(info, directions, values)
    : byKenwardRoger(fit, info, directions, values);
}

const FLAT = 'the likelihood is too flat in the variances to give degrees of freedom';

function without(numDf: number, reason: string): WaldTest {
  return { f: null, numDf, denDf: null, p: null, reason };
}

/** Orthogonal directions that span the rows, each of unit variance (over σ²), in coefficients of Q. */
function independentDirections(info: Information, rows: Float64Array[]): Float64Array[] {
  if (rows.length === 0) return [];
  const turned = rows.map((row) => multiply(row, info.unit, info.p));
  const covariance = new Matrix(turned.map((a) => rows.map((b) => dot(a, b))));
  const { realEigenvalues: values, eigenvectorMatrix: vectors } = new EigenvalueDecomposition(covariance, {
    assumeSymmetric: true,
  });
  const largest = Math.max(...values);
  const order = [...values.keys()].sort((a, b) => values[b]! - values[a]!);
  return order
    .filter((e) => values[e]! > RANK * largest)
    .map((e) => {
      const out = new Float64Array(info.p);
      rows.forEach((row, i) => {
        for (let j = 0; j < out.length; j++) out[j]! += (vectors.get(i, e) * row[j]!) / Math.sqrt(values[e]!);
      });
      return out;
    });
}

/** The estimate along a direction given in coefficients of Q: γ = R β. */
function valueAlong(fit: MixedFit, direction: Float64Array): number {
  const { r } = fit.prepared.orthogonal;
  let sum = 0;
  for (let i = 0; i < fit.p; i++)
    for (let j = i; j < fit.p; j++) sum += direction[i]! * r[i * fit.p + j]! * fit.beta[j]!;
  return sum;
}

function bySatterthwaite(info: Information, directions: Float64Array[], values: number[]): WaldTest {
  const q = directions.length;
  const f = values.reduce((sum, v) => sum + v * v, 0) / q / info.sigma2;
  const each = degreesAlong(info, directions);
  if (each.some((nu) => nu === null)) return { ...without(q, FLAT), f };
  const denDf = combinedDf(each as number[]);
  return { f, numDf: q, denDf, p: fisherUpper(f, q, denDf), reason: null };
}

/** Satterthwaite's degrees of freedom of each direction, whose products with the slopes are made together. */
function degreesAlong(info: Information, directions: readonly Float64Array[]): (number | null)[] {
  const forms = (matrix: Float64Array) => directions.map((d) => dot(multiply(d, matrix, info.p), d));
  const variances = forms(info.unit);
  const slopes = info.slopes.map(forms);
  return directions.map((_, d) =>
    satterthwaiteFrom(
      info,
      variances[d]!,
      slopes.map((slope) => slope[d]!),
    ),
  );
}

function byKenwardRoger(
  fit: MixedFit,
  info: Information,
  directions: Float64Array[],
  values: number[],
): WaldTest {
  const q = directions.length;
  const adjustment = adjustmentOf(fit, info);
  const adjusted =
    adjustment && directions.flatMap((a) => directions.map((b) => bilinear(a, adjustment.covariance, b)));
  const inverse = adjusted && inverseOfPositive(Float64Array.from(adjusted), q);
  if (!adjustment || !inverse) return without(q, FLAT);
  const { denDf, scale } = kenwardRogerTest(info, adjustment, directions);
  const f = (scale * bilinear(values, inverse, values)) / q / info.sigma2;
  if (!(denDf > 0) || !(f >= 0)) return without(q, FLAT);
  return { f, numDf: q, denDf, p: fisherUpper(f, q, denDf), reason: null };
}
