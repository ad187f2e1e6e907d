import type { MixRecord, WeighingRecord } from '../store/records.ts';
import type { Store } from '../store/store.ts';

/** The weighing that counts for each bottle of a trial: the latest. */
export function latestWeighings(store: Store, trial: string): Map<string, WeighingRecord> {
  return new Map(store.rounds.weighings(trial).map((weighing) => [weighing.blend, weighing]));
}

/**
 * Grams of each component in what was weighed: a key `pepper@5` holds grams of a 5 % stock and counts as a
 * twentieth.
 */
export function componentGrams(grams: Readonly<Record<string, number>>): Map<string, number> {
  const sums = new Map<string, number>();
  for (const [key, value] of Object.entries(grams)) {
    const [id = key, strength] = key.split('@');
    const share = strength === undefined ? 1 : Number(strength) / 100;
    sums.set(id, (sums.get(id) ?? 0) + value * share);
  }
  return sums;
}

/** Bottles of a round that are weighed anew in it, in the order of its mixes. */
export function bottlesOf(mixes: readonly MixRecord[], earlier: ReadonlySet<string>): string[] {
  return [...new Set(mixes.filter((m) => !m.again && !earlier.has(m.blend)).map((m) => m.blend))];
}

/** Blends of rounds before the given one. */
export function blendsBefore(store: Store, trial: string, round: number): Set<string> {
  const before = store.rounds.list(trial).filter((one) => one.round < round);
  return new Set(before.flatMap((one) => store.rounds.mixes(trial, one.round).map(({ blend }) => blend)));
}
