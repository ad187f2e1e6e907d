import { EngineError } from '../errors.ts';
import type { Attribute, Serving } from './observations.ts';

/**
 * Every serving carries a score, or its lack, for each attribute.
 *
 * @throws EngineError `bad-argument`
 */
export function checkScores({
  servings,
  attributes,
}: {
  servings: readonly Serving[];
  attributes: readonly Attribute[];
}): void {
  servings.forEach(({ scores }, i) => {
    if (scores.length !== attributes.length)
      throw new EngineError(
        'bad-argument',
        `servings[${i}].scores`,
        scores.length,
        `${attributes.length} scores`,
      );
  });
}
