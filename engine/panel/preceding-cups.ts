import type { Serving } from './observations.ts';

/**
 * The serving that came right before each one in the same sitting, null for a first cup or where positions are
 * not known. A sitting is an assessor's session; where positions repeat within it, each replicate is one.
 */
export function precedingCups(servings: readonly Serving[]): (Serving | null)[] {
  const sittings = new Map<string, Serving[]>();
  const join = (key: string, s: Serving) => {
    const group = sittings.get(key);
    if (group) group.push(s);
    else sittings.set(key, [s]);
  };
  for (const s of servings) if (s.position !== null) join(sessionKey(s), s);
  const before = new Map<Serving, Serving>();
  for (const cups of sittings.values())
    for (const sitting of splitWhereRepeated(cups)) {
      const byPosition = new Map(sitting.map((s) => [s.position!, s]));
      for (const s of sitting) {
        const previous = byPosition.get(s.position! - 1);
        if (previous) before.set(s, previous);
      }
    }
  return servings.map((s) => before.get(s) ?? null);
}

function sessionKey(s: Serving): string {
  return `${s.assessor}\u0000${s.session ?? ''}`;
}

function splitWhereRepeated(cups: readonly Serving[]): Serving[][] {
  if (new Set(cups.map((s) => s.position)).size === cups.length) return [[...cups]];
  const replicates = new Map<string, Serving[]>();
  for (const s of cups) {
    const key = s.replicate ?? '';
    replicates.set(key, [...(replicates.get(key) ?? []), s]);
  }
  return [...replicates.values()];
}
