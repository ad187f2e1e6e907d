import { EngineError } from '../../errors.ts';
import { studentizedRangeUpper } from '../../numeric/studentized-range.ts';
import { estimate } from './estimate.ts';
import type { AllPairs, DegreesMethod, MixedFit } from './types.ts';

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
  const differences = rows.flatMap((a, i) =>
    rows.slice(i + 1).map((b, j) => {
      const contrast = Float64Array.from({ length: fit.p }, (_, c) => a[c]! - b[c]!);
      const { estimate: difference, standardError, denDf, t } = estimate(fit, contrast, method);
      const p = t === null || denDf === null ? null : tukeyP(t, rows.length, denDf);
      return { a: labels[i]!, b: labels[i + 1 + j]!, difference, standardError, denDf, p };
    }),
  );
  return { means, differences };
}

function tukeyP(t: number, k: number, denDf: number): number {
  return studentizedRangeUpper(Math.abs(t) * Math.SQRT2, k, denDf);
}
