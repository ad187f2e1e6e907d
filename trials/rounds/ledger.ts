import type { Ledger } from '../schema/shelf-shapes.ts';
import type { Context } from './context.ts';
import { findTrial } from './find.ts';
import { lotsByBlend } from './take-from-lots.ts';
import { componentGrams, latestWeighings } from './weighed.ts';

/** What every gram of a trial went into: each bottle as it counts, where it came from, how many cups were poured. */
export function ledgerOf(context: Context, trial: string): Ledger {
  const { store } = context;
  const { brief } = findTrial(store, trial).latest;
  const weighings = store.rounds.weighings(trial);
  const labels = new Map(store.shelf.lots().map(({ lot, entry }) => [lot, entry]));
  const lots = lotsByBlend(store, trial);
  const mixes = store.rounds.list(trial).flatMap(({ round }) => store.rounds.mixes(trial, round));
  const cups = store.sittings.list(trial).flatMap(({ sitting }) => store.sittings.cups(trial, sitting));
  const bottles = [...latestWeighings(store, trial).values()].map(({ blend, round, at, grams }) => {
    const own = [...new Set(mixes.filter((mix) => mix.blend === blend).map(({ mix }) => mix))];
    const from = Object.entries(lots.get(blend) ?? {}).map(([part, lot]) => [
      part,
      labels.get(lot)?.label ?? lot,
    ]);
    return {
      ...{ blend, round, at, grams },
      corrected: weighings.filter((one) => one.blend === blend).length - 1,
      from: Object.fromEntries(from) as Record<string, string>,
      mixes: own,
      cups: cups.filter(({ mix }) => own.includes(mix)).length,
    };
  });
  const totals = brief.components.map(({ id, name, pricePerGram }) => {
    const grams = bottles.reduce((sum, bottle) => sum + (componentGrams(bottle.grams).get(id) ?? 0), 0);
    return { component: id, name, grams, cost: pricePerGram === undefined ? null : grams * pricePerGram };
  });
  const costs = totals.map(({ cost }) => cost);
  const cost = costs.includes(null) ? null : costs.reduce<number>((sum, one) => sum + (one ?? 0), 0);
  return { bottles, totals, cost };
}
