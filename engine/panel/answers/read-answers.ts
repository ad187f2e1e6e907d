import { cupsOf } from '../cups.ts';
import type { Attribute, Serving } from '../observations.ts';
import { type RightReading, readRight } from './read-right.ts';
import { readSteps, type StepsReading } from './read-steps.ts';

/** What the kind of question adds to an attribute's reading; nothing for a line or points. */
export interface AnswersReading {
  /** Categories and liking: the answers as steps whose distances are not known. */
  steps?: StepsReading;
  /** Just about right: who finds it too little or too much, and what that costs. */
  right?: RightReading;
}

/** Reads one attribute once more, by the kind of question it was. */
export function readAnswers(
  servings: readonly Serving[],
  attributes: readonly Attribute[],
  at: number,
  setAside: ReadonlySet<string>,
): AnswersReading {
  const { answered, scale } = attributes[at]!;
  if (answered === 'steps' || answered === 'liking')
    return { steps: readSteps(cupsOf(servings, at, setAside)) };
  if (answered !== 'right' || scale === null) return {};
  const likingAt = attributes.findIndex((other) => other.answered === 'liking');
  const liking = likingAt < 0 ? null : { id: attributes[likingAt]!.id, at: likingAt };
  return { right: readRight(servings, { at, scale, liking, setAside }) };
}
