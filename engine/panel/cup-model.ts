import { type AgeReading, withAge } from './age-at-tasting.ts';
import { type Cups, cupsOf } from './cups.ts';
import type { Serving } from './observations.ts';
import { withServingOrder } from './serving-order.ts';

/** What may be asked of a model beyond mixes, assessors and sessions. */
export interface CupModel {
  /** Takes the place in the sitting and the preceding cup into the fixed part. */
  adjust?: boolean | undefined;
  /** Lets assessors shift their levels from session to session. */
  assessorBySession?: boolean | undefined;
}

/**
 * The scored cups of one attribute with what the model is to hold beside mix, and what could not be done. Age at tasting
 * is held without being asked for, wherever it was recorded, differs and can be told from mixes and sessions.
 */
export function modelledCups(
  servings: readonly Serving[],
  attribute: number,
  { adjust, assessorBySession, setAside }: CupModel & { setAside?: ReadonlySet<string> },
): { cups: Cups; reason: string | null; age: Omit<AgeReading, 'effect'> | null } {
  const plain = cupsOf(servings, attribute, setAside);
  const { cups: aged, age } = withAge(servings, plain);
  const cups = assessorBySession ? { ...aged, assessorsBySession: true } : aged;
  return adjust && cups.y.length > 0
    ? { ...withServingOrder(servings, cups), age }
    : { cups, reason: null, age };
}
