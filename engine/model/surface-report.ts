import { toldApart } from '../panel/age-at-tasting.ts';
import { estimate } from '../panel/mixed/estimate.ts';
import type { DegreesMethod, MixedFit } from '../panel/mixed/types.ts';
import { reductionsOf, variancesOf } from '../panel/random-effects.ts';
import { besideEffects } from '../panel/serving-order.ts';
import type { AttributeContext } from './attribute-context.ts';
import { blendingTest } from './blending.ts';
import { blendsLeftOut } from './blends-left-out.ts';
import { coxEffects } from './cox-effects.ts';
import type { AttributeFit, Coefficient, FitInput, FitStatus } from './fit-types.ts';
import { influenceOf } from './influence.ts';
import { lackOfFit } from './lack-of-fit.ts';
import { leaveOneMixOut } from './leave-one-out.ts';
import { estimatedMeans } from './mix-factor.ts';
import type { Surface } from './surface.ts';

/** Everything that is reported of a fitted surface but how it was chosen. */
export function reportSurface(
  surface: Surface,
  context: AttributeContext,
  input: FitInput,
): Omit<AttributeFit, 'weights' | 'warnings' | 'model'> {
  const df = input.df ?? 'satterthwaite';
  const { fit, set, random } = surface;
  const left = blendsLeftOut(surface);
  return {
    id: context.id,
    status: statusOf(fit),
    reason: fit.reason,
    terms: [...set.names],
    aliased: [...set.aliased],
    coefficients: coefficientsOf(surface, df),
    blending: blendingTest(surface, df),
    effects: coxEffects(surface, input.space, input.region, df),
    variance: variancesOf(fit),
    lackOfFit: lackOfFit(surface, context.mixModel, input.region, df),
    leaveOneMixOut: leaveOneMixOut(surface, left, estimatedMeans(context.mixModel, context.tasted)),
    influence: influenceOf(surface, left),
    rSquared: centredRSquared(surface),
    logRestrictedLikelihood: fit.logRestrictedLikelihood,
    reference: referenceOf(surface, df),
    reduced: [...random.reduced, ...reductionsOf(fit)],
    ...toldApart(besideEffects(surface.tasted.cups, fit, df)),
  };
}

export function statusOf(fit: MixedFit): FitStatus {
  if (fit.status === 'estimated' || fit.status === 'not-converged') return fit.status;
  return 'no-residual';
}

function coefficientsOf({ fit, set }: Surface, df: DegreesMethod): Coefficient[] {
  return set.names.map((term, t) => {
    const row = new Float64Array(fit.p);
    row[t] = 1;
    const { estimate: value, standardError, denDf, p } = estimate(fit, row, df);
    return { term, estimate: value, standardError, denDf, p: set.pure[t] ? null : p };
  });
}

/** The reference's indicator comes right behind the terms. */
function referenceOf({ fit, set, hasReference }: Surface, df: DegreesMethod): AttributeFit['reference'] {
  if (!hasReference) return null;
  const row = new Float64Array(fit.p);
  row[set.names.length] = 1;
  const { estimate: mean, standardError } = estimate(fit, row, df);
  return { mean, standardError };
}

/** 1 - Σ (y - x'β)² / Σ (y - ȳ)² over the cups that have ratios: the squares of a model without a constant, centred. */
function centredRSquared({ tasted: { cups, reference }, set, rows, fit }: Surface): number | null {
  const own = [...cups.y.keys()].filter((i) => cups.mixOf[i] !== reference);
  const centre = own.reduce((sum, i) => sum + cups.y[i]!, 0) / own.length;
  const p = set.names.length;
  let [left, total] = [0, 0];
  for (const i of own) {
    let value = 0;
    for (let j = 0; j < p; j++) value += rows[cups.mixOf[i]! * p + j]! * fit.beta[j]!;
    left += (cups.y[i]! - value) ** 2;
    total += (cups.y[i]! - centre) ** 2;
  }
  return total > 0 ? 1 - left / total : null;
}
