import { EngineError } from '../errors.ts';
import { toStep } from './balance.ts';

export interface Correction {
  /** Grams of each component when the ratio is right again, in steps of the balance. */
  grams: number[];
  /** What is still to be added of each; never negative, since nothing can be taken out. */
  add: number[];
  /** How much larger the mix becomes than planned, as a factor. */
  larger: number;
}

/**
 * The smallest correction of a wrong pour that restores the ratio: the whole mix grows until the component that
 * stands highest over its plan is right again, and the others are topped up. What has not been poured yet counts 0.
 *
 * @param planned grams of each component
 * @param poured grams of each component so far
 * @param readability step of the balance, grams
 * @throws EngineError where a component was poured that is not planned: no topping up restores that ratio
 */
export function correctPour(
  planned: readonly number[],
  poured: readonly number[],
  readability: number,
): Correction {
  if (planned.length !== poured.length)
    throw new EngineError('bad-argument', 'poured', poured, `${planned.length} masses`);
  const wrong = poured.findIndex((grams, i) => !(grams >= 0) || (grams > 0 && !(planned[i]! > 0)));
  if (wrong >= 0)
    throw new EngineError(
      'bad-argument',
      `poured[${wrong}]`,
      poured[wrong],
      'a mass of a component that is planned',
    );
  const larger = Math.max(1, ...poured.map((grams, i) => (grams > 0 ? grams / planned[i]! : 0)));
  const grams = planned.map((mass, i) => Math.max(poured[i]!, toStep(mass * larger, readability)));
  return { grams, add: grams.map((mass, i) => toStep(mass - poured[i]!, readability)), larger };
}
