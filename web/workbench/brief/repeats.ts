import { type RepeatTrial, repeatTrial, smallestMass } from '../../../engine/bench/balance.ts';
import { readNumber } from '../numbers.ts';
import type { BriefDraft } from './draft.ts';

type Batch = BriefDraft['batch'];

/** So often is one load weighed. */
export const TIMES = 10;
/** Without a word on how well a mass should be known, this is taken, in parts of a hundred. */
const USUAL_TOLERANCE = 1;

/** What the weighings that were typed show; null until there are ten of them. */
export function typedTrial({ weighings = [], readability }: Batch): RepeatTrial | null {
  const step = readNumber(readability);
  const read = weighings.map(readNumber).filter((value) => value !== null);
  return step === null || step <= 0 || read.length < TIMES ? null : repeatTrial(read, step);
}

/** How well the scale repeats, grams: from the weighings, else as it was typed; null where neither is there. */
export function repeatsWithin(batch: Batch): number | null {
  const trial = typedTrial(batch);
  if (trial !== null) return trial.repeatability;
  const [step, typed] = [readNumber(batch.readability), readNumber(batch.repeatability ?? '')];
  return step === null || typed === null || step <= 0 || typed <= 0
    ? null
    : Math.max(typed, step / Math.sqrt(6));
}

/** The least that the scale knows as well as is asked, grams, and how well that is in parts of a hundred. */
export function leastKnown(batch: Batch): { grams: number; within: number; usual: boolean } | null {
  const readability = readNumber(batch.readability);
  if (readability === null || readability <= 0) return null;
  const asked = readNumber(batch.tolerance);
  const within = asked !== null && asked > 0 ? asked : USUAL_TOLERANCE;
  const repeatability = repeatsWithin(batch) ?? undefined;
  const grams = smallestMass({ readability, repeatability }, within / 100);
  return { grams, within, usual: within !== asked };
}

/** Puts typed text into a place; several numbers with spaces, semicolons or lines between fill the places after it. */
export function withWeighing(batch: Batch, place: number, typed: string): Batch {
  const values = [...(batch.weighings ?? [])];
  while (values.length < TIMES) values.push('');
  const several = typed.trim().split(/[;\s]+/);
  (several.length > 1 ? several : [typed]).forEach((one, k) => {
    values[place + k] = one;
  });
  return { ...batch, weighings: values.every((one) => one.trim() === '') ? [] : values };
}
