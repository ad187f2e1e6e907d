import { whyNoModel } from './attribute-context.ts';
import type { FitInput } from './fit-types.ts';
import { buildPosterior } from './posterior.ts';
import type { PanelPosterior, PosteriorOptions } from './posterior-types.ts';
import { processPosterior } from './process/process-posterior.ts';
import { tastedOf } from './tasted.ts';

/**
 * What predictions are made from: a Gaussian process where one is asked for, else the sums of terms. A process goes
 * by its prior where the scores say nothing; here such an attribute is reported as unknown, as it is with terms.
 *
 * @throws EngineError where shapes disagree or a cup's mix was never weighed
 */
export function predictPosterior(input: FitInput, options: PosteriorOptions = {}): PanelPosterior {
  if (input.model !== 'process') return buildPosterior(input, options);
  const posterior = processPosterior(input, options);
  const attributes = posterior.attributes.map((attribute, at) => {
    const nothing = whyNoModel(tastedOf(input, at));
    return nothing ? { ...attribute, ...nothing } : attribute;
  });
  return { ...posterior, attributes };
}
