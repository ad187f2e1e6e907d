import type { PouringSheet } from '../../trials/schema/api.ts';
import type { Brief } from '../../trials/schema/brief.ts';
import { type JugDose, jugDoses } from '../../trials/schema/jug-doses.ts';

/** A jug for each mix: how many cups it fills and what goes in. The practice cup is a mix like any other here. */
export function dosingRows(
  brief: Brief,
  { trays, hidden, doses }: Pick<PouringSheet, 'trays' | 'hidden' | 'doses'>,
): JugDose[] {
  const cups = new Map<string, number>();
  const fill = (mix: string) => cups.set(mix, (cups.get(mix) ?? 0) + 1);
  for (const tray of trays) {
    for (const { mix } of tray.cups) if (mix !== '') fill(mix);
    hidden.forEach(fill);
  }
  const jugs = [...cups].map(([mix, count]) => ({
    mix,
    cups: count,
    perLitre: Object.hasOwn(doses, mix) ? doses[mix]! : null,
  }));
  return jugDoses(brief, jugs);
}
