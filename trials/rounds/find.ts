import type {
  BriefRecord,
  RoundRecord,
  SeatKey,
  SeatRecord,
  SittingRecord,
  TrialRecord,
} from '../store/records.ts';
import type { Store } from '../store/store.ts';
import { notFound } from './refusal.ts';

/** A trial with the latest version of its brief. Throws `not-found`. */
export function findTrial(store: Store, trial: string): TrialRecord & { latest: BriefRecord } {
  const record = store.trials.find(trial);
  const latest = record && store.trials.latestBrief(trial);
  if (!record || !latest) throw notFound('this trial');
  return { ...record, latest };
}

/** A round of a trial. Throws `not-found`. */
export function findRound(store: Store, trial: string, round: number): RoundRecord {
  findTrial(store, trial);
  const record = store.rounds.list(trial).find((one) => one.round === round);
  if (!record) throw notFound(`round ${round}`);
  return record;
}

/** A sitting of a trial. Throws `not-found`. */
export function findSitting(store: Store, trial: string, sitting: string): SittingRecord {
  const record = store.sittings.find(trial, sitting);
  if (!record) throw notFound('this sitting');
  return record;
}

/** An assessor's seat at a sitting. Throws `not-found`. */
export function findSeat(store: Store, { trial, sitting, assessor }: SeatKey): SeatRecord {
  findSitting(store, trial, sitting);
  const seat = store.sittings.seats(trial, sitting).find((one) => one.assessor === assessor);
  if (!seat) throw notFound(`a seat for ${assessor}`);
  return seat;
}
