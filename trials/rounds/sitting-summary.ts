import { WARMUP } from '../../engine/panel/observations.ts';
import type { SittingSummary } from '../schema/api.ts';
import type { SittingRecord } from '../store/records.ts';
import type { Store } from '../store/store.ts';

/** A sitting as the round's page lists it: who, how many cups, how many answers; never a score. */
export function sittingSummary(store: Store, trial: string, record: SittingRecord): SittingSummary {
  const { sitting, label, state, key, questions } = record;
  const seats = store.sittings.seats(trial, sitting);
  const cups = store.sittings.cups(trial, sitting);
  const answered = store.answers.answered(trial, sitting);
  const late = store.answers.bySeat(trial, sitting).reduce((sum, seat) => sum + seat.late, 0);
  return {
    sitting,
    label,
    state,
    key,
    assessors: seats.map(({ assessor }) => assessor),
    cups: cups.filter(({ mix }) => mix !== WARMUP).length,
    answers: answered.reduce((sum, cup) => sum + cup.answered, 0),
    answersExpected: cups.length * questions.length,
    late,
    knowing: seats.filter(({ knowing }) => knowing).map(({ assessor }) => assessor),
  };
}
