import type { Portion } from './explode.ts';

/** What limits could not be held against, and why. */
export interface Unchecked {
  material: string;
  because: string;
}

/**
 * Everything whose constituents are not all known: an oil or extract is never clean by silence.
 */
export function uncheckedOf(portions: readonly Portion[]): Unchecked[] {
  const found = new Map<string, Unchecked>();
  for (const { substance, grams } of portions) {
    const because = grams > 0 ? reasonFor(substance.makeup) : null;
    if (because !== null) found.set(substance.id, { material: substance.name, because });
  }
  return [...found.values()];
}

/** So many constituents are named. */
const MOST_NAMED = 8;

function reasonFor(makeup: Portion['substance']['makeup']): string | null {
  if (makeup.kind === 'unknown')
    return "not on the shelf: what it is made of is not known; enter its supplier's sheet";
  if (makeup.kind === 'pure') return makeup.mayCarry ?? null;
  if (makeup.kind !== 'complex' || makeup.complete) return null;
  if (makeup.constituents.length === 0) return "unknown constituents: enter its supplier's sheet";
  const names = makeup.constituents.map(({ substance }) => substance);
  const more = names.length > MOST_NAMED ? [`and ${names.length - MOST_NAMED} more`] : [];
  const known = [...names.slice(0, MOST_NAMED), ...more].join(', ');
  return `only some constituents are known (${known}): enter its supplier's sheet`;
}
