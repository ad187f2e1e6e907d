import { WARMUP } from '../../engine/panel/observations.ts';
import type { SittingSummary } from '../schema/api.ts';
import type { CupRecord, MixRecord, SittingRecord } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import { partsOf, rankingIds } from './cup-parts.ts';
import { findTrial } from './find.ts';
import { ethanolOf } from './sitting-ethanol.ts';
import { sittingWarnings } from './sitting-warnings.ts';

/** A sitting as the round's page lists it: who, how many cups, how many answers; never a score. */
export function sittingSummary(store: Store, trial: string, record: SittingRecord): SittingSummary {
  const { sitting, round, label, state, key, manner } = record;
  const seats = store.sittings.seats(trial, sitting);
  const gone = new Set(seats.filter(({ absent }) => absent).map(({ assessor }) => assessor));
  const cups = store.sittings.cups(trial, sitting).filter(({ assessor }) => !gone.has(assessor));
  const answered = store.answers.answered(trial, sitting);
  const late = store.answers.bySeat(trial, sitting).reduce((sum, seat) => sum + seat.late, 0);
  const tray = drinksOf(record, cups, cups[0]?.assessor);
  const { brief } = findTrial(store, trial).latest;
  const mixes = pouredMixes(store, trial, round, tray);
  return {
    sitting,
    label,
    state,
    key,
    assessors: seats.map(({ assessor }) => assessor),
    mixes: mixes.map(({ mix }) => mix),
    cups: cups.filter(({ mix }) => mix !== WARMUP).length,
    answers: answered.reduce((sum, cup) => sum + cup.answered, 0),
    answersExpected: expected(record, cups),
    late,
    knowing: seats.filter(({ knowing }) => knowing).map(({ assessor }) => assessor),
    ethanolGrams: ethanolOf(brief, { cups: tray, mixes, tasters: seats.length }),
    test: manner.test?.form ?? null,
    unnamed: [...new Set(cups.filter(({ mix }) => mix === '').map(({ code }) => code))].sort(),
    old: manner.old !== undefined,
    warnings: manner.old === undefined ? sittingWarnings(store, trial, { record, brief, tray }) : [],
  };
}

/** What stands on a taster's tray, in no particular order where the names are still hidden. */
function drinksOf({ manner }: SittingRecord, cups: readonly CupRecord[], assessor: string | undefined) {
  const tray = cups.filter((cup) => cup.assessor === assessor).map(({ mix }) => mix);
  return tray.includes('') ? [...tray.filter((mix) => mix !== ''), ...(manner.hidden ?? [])] : tray;
}

/** Answers that make a sitting complete: every question of every part, and each cup's place in each ranking. */
function expected({ questions }: SittingRecord, cups: readonly CupRecord[]): number {
  const rankings = rankingIds(questions).length;
  const counted = cups.filter(({ mix }) => mix !== WARMUP).length;
  return partsOf(cups).length * (questions.length - rankings) + counted * rankings;
}

function pouredMixes(store: Store, trial: string, round: number, tray: readonly string[]): MixRecord[] {
  return store.rounds.mixes(trial, round).filter(({ mix }) => tray.includes(mix));
}
