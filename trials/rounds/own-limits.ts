import type { Limit } from '../../engine/bench/limits.ts';
import type { LimitView, OwnLimit } from '../schema/shelf-shapes.ts';
import { legalLimits } from '../shelf/legal-limits.ts';
import { asLimit } from '../shelf/own-limit.ts';
import type { Store } from '../store/store.ts';
import { type Context, timeOf } from './context.ts';
import { noteAct } from './keep-lots.ts';
import { notFound } from './refusal.ts';

/** The maker's own limits, as drinks are held against them. */
export function ownLimitsIn(store: Store): Limit[] {
  return entriesIn(store).map(({ entry }) => asLimit(entry));
}

/** Every limit that drinks are held against: the maker's own first, then those of the starter list. */
export function limitViews(store: Store): LimitView[] {
  const own = entriesIn(store).map(({ id, entry }) => ({ ...asLimit(entry), own: id }));
  return [...own, ...legalLimits().map((one) => ({ ...one, own: null }))];
}

/** A limit of the maker's own. */
export function addLimit(context: Context, entry: OwnLimit): LimitView[] {
  const { store } = context;
  store.write(() => {
    const id = store.shelf.addLimit(timeOf(context), entry);
    noteAct(context, 'entered an own limit', toldOf(id, entry));
  });
  return limitViews(store);
}

/** Changes a limit of the maker's own, or brings back one that was taken away. @throws Refusal `not-found` */
export function changeLimit(context: Context, id: number, entry: OwnLimit): LimitView[] {
  const { store } = context;
  store.write(() => {
    const before = findLimit(store, id);
    store.shelf.changeLimit(id, timeOf(context), entry, null);
    const act = before.away === null ? 'changed an own limit' : 'brought back an own limit';
    noteAct(context, act, toldOf(id, entry));
  });
  return limitViews(store);
}

/** Takes a limit of the maker's own away: nothing is held against it any more; it can be brought back. */
export function takeLimitAway(context: Context, id: number): LimitView[] {
  const { store } = context;
  store.write(() => {
    const { entry, away } = findLimit(store, id);
    if (away !== null) return;
    const at = timeOf(context);
    store.shelf.changeLimit(id, at, entry, at);
    noteAct(context, 'took away an own limit', toldOf(id, entry));
  });
  return limitViews(store);
}

function entriesIn(store: Store) {
  return store.shelf.limits().filter(({ away }) => away === null);
}

function findLimit(store: Store, id: number) {
  const found = store.shelf.limits().find((one) => one.id === id);
  if (!found) throw notFound(`own limit ${id}`);
  return found;
}

function toldOf(id: number, { substance, kind, limit, unit, drinks, source }: OwnLimit): string {
  const says = kind === 'maximum' ? `at most ${limit} ${unit}` : kind;
  return `own limit ${id}: ${substance}, ${says} in ${drinks} drinks; ${source}`;
}
