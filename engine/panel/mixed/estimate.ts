import { EngineError } from '../../errors.ts';
import { bilinear } from '../../numeric/dense.ts';
import { solveUpperTransposed } from '../../numeric/orthogonal.ts';
import { studentTwoSided } from '../../numeric/student.ts';
import { type Information, informationOf } from './information.ts';
import { adjustmentOf, kenwardRogerTest } from './kenward-roger.ts';
import { satterthwaiteDf } from './satterthwaite.ts';
import type { DegreesMethod, Estimate, MixedFit } from './types.ts';

/**
 * Estimates l'β with its standard error, degrees of freedom, t and two-sided p. By Satterthwaite's method the
 * standard error is that of the model; by Kenward and Roger's it is adjusted for the estimated variances. With no
 * nonzero variance component the degrees of freedom are n - p.
 *
 * @param l p weights of the fixed coefficients
 * @returns entries that cannot be had are null and `reason` says why
 */
export function estimate(
  fit: MixedFit,
  l: ArrayLike<number>,
  method: DegreesMethod = 'satterthwaite',
): Estimate {
  if (l.length !== fit.p) throw new EngineError('bad-argument', 'l', l.length, `${fit.p} weights`);
  let value = 0;
  for (let j = 0; j < fit.p; j++) value += l[j]! * fit.beta[j]!;
  const info = informationOf(fit);
  if (!info) return without(value, fit.reason ?? 'no residual variance was estimated');
  const direction = solveUpperTransposed(fit.prepared.orthogonal.r, l);
  const unit = bilinear(direction, info.unit, direction);
  if (!(unit > 0)) return without(value, 'the combination is empty');
  const { variance, denDf } = varianceOf(fit, info, direction, unit, method);
  if (!(variance > 0)) return without(value, 'the adjusted variance is not positive');
  const standardError = Math.sqrt(variance * info.sigma2);
  const t = value / standardError;
  if (denDf === null || !(denDf > 0))
    return { estimate: value, standardError, denDf: null, t, p: null, reason: FLAT };
  return { estimate: value, standardError, denDf, t, p: studentTwoSided(t, denDf), reason: null };
}

const FLAT = 'the likelihood is too flat in the variances to give degrees of freedom';

function without(value: number, reason: string): Estimate {
  return { estimate: value, standardError: null, denDf: null, t: null, p: null, reason };
}

function varianceOf(
  fit: MixedFit,
  info: Information,
  direction: Float64Array,
  unit: number,
  method: DegreesMethod,
): { variance: number; denDf: number | null } {
  if (method === 'satterthwaite') return { variance: unit, denDf: satterthwaiteDf(info, direction) };
  const adjustment = adjustmentOf(fit, info);
  if (!adjustment) return { variance: unit, denDf: null };
  const standard = direction.map((v) => v / Math.sqrt(unit));
  const { denDf } = kenwardRogerTest(info, adjustment, [standard]);
  return { variance: bilinear(direction, adjustment.covariance, direction), denDf };
}
