import type { SittingSummary } from '../schema/api.ts';
import type { SittingRecord } from '../store/records.ts';
import { type Context, record, timeOf } from './context.ts';
import { findSeat, findSitting } from './find.ts';
import { conflict } from './refusal.ts';
import { sittingSummary } from './sitting-summary.ts';
import { drawToken, hashToken } from './tokens.ts';

/** Which sitting of which trial. */
export interface SittingPlace {
  trial: string;
  sitting: string;
}

/** Lets the tasting begin, or go on after it was closed while the key is still sealed. */
export function openSitting(context: Context, place: SittingPlace): SittingSummary {
  return changed(context, place, 'opened the sitting', (sitting) => {
    if (sitting.state === 'open') return null;
    if (sitting.key === 'opened') throw conflict('the key is open: this sitting is over');
    return { ...sitting, state: 'open', opened: sitting.opened ?? timeOf(context), closed: null };
  });
}

/** Ends the tasting. Answers that are still on their way are taken when they come. */
export function closeSitting(context: Context, place: SittingPlace): SittingSummary {
  return changed(context, place, 'closed the sitting', (sitting) => {
    if (sitting.state === 'closed') return null;
    if (sitting.state === 'poured') throw conflict('this sitting has not been opened');
    return { ...sitting, state: 'closed', closed: timeOf(context) };
  });
}

/**
 * Opens the key: from now on the maker may know which code was which mix, and answers that come later are kept and
 * marked late. The reason is on record. An opened key stays open.
 */
export function openKey(context: Context, place: SittingPlace, why: string): SittingSummary {
  return changed(context, place, `opened the key: ${why}`, (sitting) => keyOf(context, place, sitting, why));
}

function keyOf(
  context: Context,
  place: SittingPlace,
  sitting: SittingRecord,
  why: string,
): SittingRecord | null {
  if (sitting.key === 'opened') return null;
  const cups = context.store.sittings.cups(place.trial, place.sitting);
  if (cups.some(({ mix }) => mix === '')) throw conflict('enter the names that stand under the cups first');
  return { ...sitting, key: 'opened', keyOpened: timeOf(context), keyWhy: why };
}

/** A new token for one taster; the old link stops working. */
export function renewToken(context: Context, place: SittingPlace, assessor: string): string {
  const token = drawToken();
  const key = { ...place, assessor };
  context.store.write(() => {
    findSeat(context.store, key);
    context.store.sittings.setToken(key, hashToken(token));
    record(context, place.trial, 'renewed a link', `for ${JSON.stringify(assessor)} in ${place.sitting}`);
  });
  return token;
}

/** A token for whoever pours: it opens this sitting's sheet and nothing else. */
export function drawPourerToken(context: Context, place: SittingPlace): string {
  const token = drawToken();
  context.store.write(() => {
    findSitting(context.store, place.trial, place.sitting);
    const { trial, sitting } = place;
    context.store.access.addPourerLink(hashToken(token), trial, sitting, timeOf(context));
    record(context, trial, "made a pourer's link", sitting);
  });
  return token;
}

/** Applies a change of state, if it is one, and records it. */
function changed(
  context: Context,
  { trial, sitting }: SittingPlace,
  act: string,
  change: (sitting: SittingRecord) => SittingRecord | null,
): SittingSummary {
  const { store } = context;
  return store.write(() => {
    const before = findSitting(store, trial, sitting);
    const after = change(before);
    if (after !== null) {
      store.sittings.update(trial, after);
      record(context, trial, act, `${JSON.stringify(before.label)} (${sitting})`);
    }
    return sittingSummary(store, trial, after ?? before);
  });
}
