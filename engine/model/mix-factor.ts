import { type MixModel, MixModels } from '../panel/mix-model.ts';
import type { Tasted } from './tasted.ts';

/**
 * Mix as a factor with the same random effects: what the surface is measured against.
 * @param models fits of other attributes, whose preparation is shared where the same cups were scored
 */
export function fitMixFactor(tasted: Tasted, models = new MixModels()): MixModel {
  return models.fit(tasted.cups);
}

/** Estimated means of the mixes that have ratios, in their order. */
export function estimatedMeans(model: MixModel, tasted: Tasted): Float64Array {
  return Float64Array.from(tasted.mixes, (_, m) => model.fit.beta[m]!);
}
