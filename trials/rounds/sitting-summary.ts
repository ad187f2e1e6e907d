import { WARMUP } from '../../engine/panel/observations.ts';
import type { SittingSummary } from '../schema/api.ts';
import type { MixRecord, SittingRecord } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import { findTrial } from './find.ts';
import { ethanolOf } from './sitting-ethanol.ts';

/** A sitting as the round's page lists it: who, how many cups, how many answers; never a score. */
export function sittingSummary(store: Store, trial: string, record: SittingRecord): SittingSummary {
  const { sitting, round, label, state, key, questions } = record;
  const seats = store.sittings.seats(trial, sitting);
  const cups = store.sittings.cups(trial, sitting);
  const answered = store.answers.answered(trial, sitting);
  const late = store.answers.bySeat(trial, sitting).reduce((sum, seat) => sum + seat.late, 0);
  const tray = cups.filter(({ assessor }) => assessor === seats[0]?.assessor).map(({ mix }) => mix);
  const { brief } = findTrial(store, trial).latest;
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
    ethanolGrams: ethanolOf(brief, {
      cups: tray,
      mixes: pouredMixes(store, trial, round, tray),
      tasters: seats.length,
    }),
  };
}

function pouredMixes(store: Store, trial: string, round: number, tray: readonly string[]): MixRecord[] {
  return store.rounds.mixes(trial, round).filter(({ mix }) => tray.includes(mix));
}
