import { WARMUP } from '../../engine/panel/observations.ts';
import type { SittingSummary } from '../schema/api.ts';
import { type Context, record } from './context.ts';
import { findSitting } from './find.ts';
import { badInput, conflict } from './refusal.ts';
import type { SittingPlace } from './sitting-life.ts';
import { sittingSummary } from './sitting-summary.ts';
import { listed } from './words.ts';

/** A code and the name that was read under its cup. */
export interface NamedCup {
  code: string;
  mix: string;
}

/**
 * Takes the names that stood under the cups, all at once, after the last ballot: each drink of the sitting as often as
 * it was poured.
 * @throws Refusal `conflict` before the sitting is closed or where the names are known, `bad-input` where they do not
 * match what was to be poured
 */
export function nameCups(context: Context, place: SittingPlace, names: readonly NamedCup[]): SittingSummary {
  const { store } = context;
  const { trial, sitting } = place;
  return store.write(() => {
    const found = findSitting(store, trial, sitting);
    const open = store.sittings.cups(trial, sitting).filter(({ mix }) => mix === '');
    if (open.length === 0) throw conflict('no name is missing in this sitting');
    if (found.state !== 'closed')
      throw conflict('end the tasting first: names are read after the last ballot');
    const codes = [...new Set(open.map(({ code }) => code))].sort();
    refuseMismatch(names, codes, found.manner.hidden ?? []);
    const mixOf = new Map(names.map(({ code, mix }) => [code, mix]));
    const times = new Map<string, number>();
    for (const cup of store.sittings.cups(trial, sitting).filter(({ mix }) => mix !== WARMUP)) {
      const mix = mixOf.get(cup.code)!;
      const key = JSON.stringify([cup.assessor, mix]);
      times.set(key, (times.get(key) ?? 0) + 1);
      store.sittings.nameCup(place, { ...cup, mix, replicate: String(times.get(key)) });
    }
    record(context, trial, 'entered the names under the cups', `${codes.length} in ${sitting}`);
    return sittingSummary(store, trial, found);
  });
}

function refuseMismatch(
  names: readonly NamedCup[],
  codes: readonly string[],
  poured: readonly string[],
): void {
  const given = names.map(({ code }) => code).sort();
  if (given.join() !== codes.join())
    throw badInput('names', given.join(', '), `each of ${codes.join(', ')} once`);
  const read = names.map(({ mix }) => mix).sort();
  const wanted = [...poured].sort();
  if (read.join('\n') === wanted.join('\n')) return;
  const at = names.findIndex(({ mix }) => count(read, mix) > count(wanted, mix));
  const times = (mix: string) => (count(wanted, mix) > 1 ? `${mix} (${count(wanted, mix)} times)` : mix);
  throw badInput(`names[${at}].mix`, names[at]!.mix, listed([...new Set(wanted)].map(times)));
}

function count(list: readonly string[], one: string): number {
  return list.filter((other) => other === one).length;
}
