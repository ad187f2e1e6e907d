import type { MixModel } from '../panel/mix-model.ts';
import { jointPrediction } from '../panel/mixed/prediction.ts';
import { panelAverage } from './panel-effects.ts';
import type { Tasted } from './tasted.ts';

/**
 * What the panel says of each tasted mix, before any model of the ratios: means as this panel gives them, and how
 * far off they may be together. It is all that models of the ratios have to explain; given the variances, a model
 * fitted to it is the same as one fitted to the cups.
 */
export interface MixSummary {
  means: Float64Array;
  /** M × M; null where mix as a factor leaves no residual: then proportional to 1 / cups. */
  covariance: Float64Array | null;
  cups: Float64Array;
  /** Blend of each mix, as a number. */
  blendOf: Int32Array;
}

export function summariseMixes(tasted: Tasted, { fit }: MixModel): MixSummary {
  const m = tasted.mixes.length;
  const fixed = new Float64Array(m * fit.p);
  for (let i = 0; i < m; i++) fixed[i * fit.p + i] = 1;
  const effects = [panelAverage(tasted.cups, fit)];
  const { value, covariance } = jointPrediction(fit, { fixed, effects, effectOf: new Int32Array(m) });
  const blends = [...new Set(tasted.mixes.map(({ blend }) => blend))];
  return {
    means: value,
    covariance: fit.status === 'estimated' ? covariance : null,
    cups: Float64Array.from({ length: m }, (_, i) =>
      tasted.cups.mixOf.reduce((count, mix) => count + Number(mix === i), 0),
    ),
    blendOf: Int32Array.from(tasted.mixes, ({ blend }) => blends.indexOf(blend)),
  };
}
