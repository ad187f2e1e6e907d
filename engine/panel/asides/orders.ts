import type { RankedBlock } from '../ranking/incomplete-ranks.ts';
import { midranks } from '../ranking/midranks.ts';
import type { AsideAnswer } from './aside-types.ts';

/** One order a sitting and taster; where a taster's orders hold the same mixes, one order of their mean places. */
export function ordersOf(answers: readonly AsideAnswer[], mixes: readonly string[]): RankedBlock[] {
  const place = new Map(mixes.map((mix, i) => [mix, i]));
  const ballots = grouped(answers, ({ assessor, session }) => [assessor, session]);
  const orders = ballots.map((cups) => {
    const sums = new Map<number, number[]>();
    for (const { mix, value } of cups) {
      const item = place.get(mix)!;
      sums.set(item, [...(sums.get(item) ?? []), Number(value)]);
    }
    const items = [...sums.keys()].sort((a, b) => a - b);
    const places = midranks(items.map((item) => meanOf(sums.get(item)!)));
    return { assessor: cups[0]!.assessor, items, places };
  });
  return grouped(orders, ({ assessor, items }) => [assessor, ...items.map(String)])
    .map((same) => ({
      items: same[0]!.items,
      places: same[0]!.items.map((_, i) => meanOf(same.map(({ places }) => places[i]!))),
    }))
    .filter(({ items }) => items.length > 1);
}

function grouped<T>(list: readonly T[], key: (one: T) => readonly (string | null)[]): T[][] {
  const groups = new Map<string, T[]>();
  for (const one of list) {
    const name = JSON.stringify(key(one));
    const group = groups.get(name);
    if (group) group.push(one);
    else groups.set(name, [one]);
  }
  return [...groups.values()];
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, v) => sum + v, 0) / values.length;
}
