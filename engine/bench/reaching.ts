import type { Portion } from './explode.ts';

/** What reaches the drink of one substance, from wherever it comes. */
export interface Reaching {
  name: string;
  cas: string | null;
  /** Null where the concentrate's density is missing. */
  mgPerKg: number | null;
  /** Some of it was added as the pure substance. */
  asSuch: boolean;
  /** Oils and extracts that bring it, each at the most that it may hold. */
  within: { material: string; mgPerKg: number | null }[];
}

/**
 * Sums each substance over everything that brings it: added pure, dissolved, or held by oils and extracts.
 *
 * @param perGram mg/kg in the drink for each gram in the formula; null where it cannot be told
 * @returns the most first
 */
export function reachingOf(portions: readonly Portion[], perGram: number | null): Reaching[] {
  const sums = new Map<string, Reaching & { grams: number }>();
  const add = (name: string, cas: string | null, grams: number, asSuch: boolean) => {
    const key = cas ?? name.toLowerCase();
    const sum = sums.get(key) ?? { name, cas, grams: 0, mgPerKg: null, asSuch: false, within: [] };
    sums.set(key, { ...sum, grams: sum.grams + grams, asSuch: sum.asSuch || asSuch });
    return sums.get(key)!;
  };
  for (const { substance, grams, asSuch } of portions) {
    if (grams === 0) continue;
    add(substance.name, substance.cas, grams, asSuch);
    if (substance.makeup.kind !== 'complex') continue;
    for (const { substance: name, cas, mostPercent } of substance.makeup.constituents) {
      const held = (grams * mostPercent) / 100;
      const mgPerKg = perGram === null ? null : held * perGram;
      add(name, cas, held, false).within.push({ material: substance.name, mgPerKg });
    }
  }
  return [...sums.values()]
    .sort((a, b) => b.grams - a.grams)
    .map(({ grams, ...one }) => ({ ...one, mgPerKg: perGram === null ? null : grams * perGram }));
}
