import type { Fault } from '../schema/api.ts';
import type { Brief } from '../schema/brief.ts';
import { makeFault } from '../schema/faults.ts';
import type { Store } from '../store/store.ts';
import { Refusal } from './refusal.ts';

/**
 * Refuses a new version of a brief that would leave recorded work without meaning: a component or setting that
 * planned mixes hold must stay, settings cannot be added to mixes that were made without them, and the scale of an
 * attribute that has been scored must stay as it is. Limits, targets, prices and words may change at any time.
 */
export function refuseLosingBrief(store: Store, trial: string, before: Brief, after: Brief): void {
  const faults = [
    ...lostComponents(store, trial, before, after),
    ...changedSettings(store, trial, before, after),
    ...changedScales(store, trial, after),
  ];
  if (faults.length > 0) throw new Refusal('bad-input', faults[0]!.message, faults);
}

function lostComponents(store: Store, trial: string, before: Brief, after: Brief): Fault[] {
  const kept = new Set(after.components.map(({ id }) => id));
  const used = store.rounds
    .list(trial)
    .flatMap(({ round }) => store.rounds.mixes(trial, round))
    .flatMap(({ planned }) => Object.keys(planned.ratios).filter((id) => planned.ratios[id]! > 0));
  return before.components
    .filter(({ id }) => !kept.has(id) && used.includes(id))
    .map(({ id }) => makeFault('components', id, 'to stay: mixes have been planned with it'));
}

function changedSettings(store: Store, trial: string, before: Brief, after: Brief): Fault[] {
  if (store.rounds.list(trial).length === 0) return [];
  const ids = (brief: Brief) => brief.settings.map(({ id }) => id);
  const [old, fresh] = [ids(before), ids(after)];
  const gone = old.filter((id) => !fresh.includes(id));
  const added = fresh.filter((id) => !old.includes(id));
  return [
    ...gone.map((id) => makeFault('settings', id, 'to stay: mixes have been planned with it')),
    ...added.map((id) => makeFault('settings', id, 'no new setting: mixes have been planned without it')),
  ];
}

function changedScales(store: Store, trial: string, after: Brief): Fault[] {
  const scored = store.sittings
    .list(trial)
    .filter(({ sitting }) => store.answers.bySeat(trial, sitting).length > 0)
    .flatMap(({ questions }) => questions);
  return after.attributes.flatMap(({ id, scale }, index) => {
    const asked = scored.find((question) => question.id === id);
    if (!asked || (asked.scale[0] === scale[0] && asked.scale[1] === scale[1])) return [];
    const allowed = `[${asked.scale.join(', ')}], as it has been scored`;
    return [makeFault(`attributes[${index}].scale`, scale, allowed)];
  });
}
