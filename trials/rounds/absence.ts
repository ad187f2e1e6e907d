import { REFERENCE, WARMUP } from '../../engine/panel/observations.ts';
import type { SittingSummary } from '../schema/api.ts';
import { SittingRequest } from '../schema/api.ts';
import type { CupRecord, SeatRecord, SittingRecord } from '../store/records.ts';
import { type Context, record } from './context.ts';
import { partsOf } from './cup-parts.ts';
import { drawTrays } from './draw-trays.ts';
import { findSeat, findSitting } from './find.ts';
import { conflict } from './refusal.ts';
import type { SittingPlace } from './sitting-life.ts';
import { sittingSummary } from './sitting-summary.ts';
import { drawSeed } from './tokens.ts';

/** Marks a taster as not come, or as come after all: nothing is expected of an absent one. */
export function markAbsent(
  context: Context,
  place: SittingPlace,
  { assessor, absent }: { assessor: string; absent: boolean },
): SittingSummary {
  const { store } = context;
  return store.write(() => {
    const seat = findSeat(store, { ...place, assessor });
    if (seat.absent !== absent) {
      if (absent && store.answers.messages({ ...place, assessor }).length > 0)
        throw conflict(`${assessor} has answered already`);
      store.sittings.setAbsent({ ...place, assessor }, absent);
      const act = absent ? 'marked a taster as absent' : 'took back an absence';
      record(context, place.trial, act, `${JSON.stringify(assessor)} in ${place.sitting}`);
    }
    return sittingSummary(store, place.trial, findSitting(store, place.trial, place.sitting));
  });
}

/**
 * Draws codes and orders anew for those who have come, so that theirs are balanced without the absent ones. Links
 * stay as they are; sheets and labels must be printed again.
 * @throws Refusal `conflict` once the tasting has begun: then trays of late tasters make up for what is lacking
 */
export function redrawOrders(context: Context, place: SittingPlace): SittingSummary {
  const { store } = context;
  const { trial, sitting } = place;
  return store.write(() => {
    const found = findSitting(store, trial, sitting);
    if (found.state !== 'poured') throw conflict('the tasting has begun: the orders stay as they are');
    const seats = store.sittings.seats(trial, sitting);
    const cups = store.sittings.cups(trial, sitting);
    const present = seats.filter(({ absent }) => !absent);
    if (present.length === 0) throw conflict('nobody has come');
    const met = store.sittings.codesMet(trial);
    const trays = drawTrays(requestOf(found, present, cups), drawSeed(), met);
    store.sittings.clearCups(trial, sitting);
    for (const { assessor, cups: drawn } of trays)
      for (const cup of drawn) store.sittings.addCup(place, { part: null, ...cup, assessor });
    record(context, trial, 'drew the orders anew', `${found.label}, ${present.length} tasters`);
    return sittingSummary(store, trial, found);
  });
}

/** What was asked for when the sitting was drawn, for those who have come. */
function requestOf(
  { label, manner }: SittingRecord,
  present: readonly SeatRecord[],
  cups: readonly CupRecord[],
): SittingRequest {
  const one = cups.filter(({ assessor }) => assessor === cups[0]!.assessor);
  const tray = manner.hidden ?? one.map(({ mix }) => mix).filter((mix) => mix !== WARMUP);
  const poured = [...new Set(cups.some(({ part }) => part !== null) ? cups.map(({ mix }) => mix) : tray)];
  const sets = partsOf(one).length;
  const { test } = manner;
  return SittingRequest.parse({
    label,
    assessors: present.map(({ assessor }) => assessor),
    mixes: poured.filter((mix) => mix !== REFERENCE),
    reference: poured.includes(REFERENCE),
    replicates: test ? sets : tray.filter((mix) => mix === tray[0]).length,
    warmup: one.some(({ mix }) => mix === WARMUP),
    alone: manner.hidden !== undefined,
    ...(test ? { test: { ...test, stronger: test.stronger ?? undefined } } : {}),
  });
}
