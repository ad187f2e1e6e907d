import { EngineError } from '../../errors.ts';
import { multiply } from '../../numeric/dense.ts';
import { solveUpperTransposed } from '../../numeric/orthogonal.ts';
import { studentizedRangeUpper } from '../../numeric/studentized-range.ts';
import { estimate } from './estimate.ts';
import { informationOf } from './information.ts';
import { satterthwaiteFrom } from './satterthwaite.ts';
import type { AllPairs, DegreesMethod, Estimate, MixedFit } from './types.ts';

/**
 * Means given as combinations of the fixed coefficients, and all differences between two of them with Tukey and
 * Kramer's p: the upper tail of the studentized range of k means at √2 |t| (Kramer 1956, Biometrics 12, 307-310).
 *
 * @param rows k rows of p weights
 * @param labels k names
 */
export function allPairs(
  fit: MixedFit,
  rows: readonly ArrayLike<number>[],
  labels: readonly string[],
  method: DegreesMethod = 'satterthwaite',
): AllPairs {
  if (rows.length !== labels.length)
    throw new EngineError('bad-argument', 'labels', labels.length, `${rows.length} labels`);
  const means = rows.map((row, i) => {
    const { estimate: mean, standardError, denDf } = estimate(fit, row, method);
    return { label: labels[i]!, mean, standardError, denDf };
  });
  const compare = comparisons(fit, rows, method);
  const differences = rows.flatMap((_, i) =>
    rows.slice(i + 1).map((_, j) => {
      const { estimate: difference, standardError, denDf, t } = compare(i, i + 1 + j);
      const p = t === null || denDf === null ? null : tukeyP(t, rows.length, denDf);
      return { a: labels[i]!, b: labels[i + 1 + j]!, difference, standardError, denDf, p };
    }),
  );
  return { means, differences };
}

type Compared = Pick<Estimate, 'estimate' | 'standardError' | 'denDf' | 't'>;

/**
 * Estimates row a minus row b. By Satterthwaite's method the products of each row with the covariance and its slopes are
 * made once, so that a pair costs only the entries in which the two rows differ: there are as many pairs as the square
 * of the rows.
 */
function comparisons(fit: MixedFit, rows: readonly ArrayLike<number>[], method: DegreesMethod) {
  const info = method === 'satterthwaite' ? informationOf(fit) : null;
  if (!info)
    return (a: number, b: number): Compared =>
      estimate(
        fit,
        Float64Array.from({ length: fit.p }, (_, c) => rows[a]![c]! - rows[b]![c]!),
        method,
      );
  const values = rows.map((row) => fit.beta.reduce((sum, beta, j) => sum + row[j]! * beta, 0));
  const directions = rows.map((row) => solveUpperTransposed(fit.prepared.orthogonal.r, row));
  const through = (matrix: Float64Array) => directions.map((d) => multiply(d, matrix, info.p));
  const unit = through(info.unit);
  const slopes = info.slopes.map(through);
  const entries = directions.map((d) => [...d.keys()].filter((j) => d[j] !== 0));
  return (a: number, b: number): Compared => {
    const form = (products: readonly Float64Array[]) => {
      let sum = 0;
      for (const j of entries[a]!)
        sum += (directions[a]![j]! - directions[b]![j]!) * (products[a]![j]! - products[b]![j]!);
      for (const j of entries[b]!)
        if (directions[a]![j] === 0) sum -= directions[b]![j]! * (products[a]![j]! - products[b]![j]!);
      return sum;
    };
    const difference = values[a]! - values[b]!;
    const variance = form(unit);
    if (!(variance > 0)) return { estimate: difference, standardError: null, denDf: null, t: null };
    const denDf = satterthwaiteFrom(info, variance, slopes.map(form));
    const standardError = Math.sqrt(variance * info.sigma2);
    const isKnown = denDf !== null && denDf > 0;
    return {
      estimate: difference,
      standardError,
      denDf: isKnown ? denDf : null,
      t: difference / standardError,
    };
  };
}

function tukeyP(t: number, k: number, denDf: number): number {
  return studentizedRangeUpper(Math.abs(t) * Math.SQRT2, k, denDf);
}
