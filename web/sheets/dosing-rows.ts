import type { PouringSheet } from '../../trials/schema/api.ts';
import type { Brief } from '../../trials/schema/brief.ts';
import { type JugDose, jugDoses } from '../../trials/schema/jug-doses.ts';

/** A jug for each mix: how many cups it fills and what goes in. The practice cup is a mix like any other here. */
export function dosingRows(brief: Brief, { trays, doses }: Pick<PouringSheet, 'trays' | 'doses'>): JugDose[] {
  const cups = new Map<string, number>();
  for (const tray of trays) for (const { mix } of tray.cups) cups.set(mix, (cups.get(mix) ?? 0) + 1);
  const jugs = [...cups].map(([mix, count]) => ({
    mix,
    cups: count,
    perLitre: Object.hasOwn(doses, mix) ? doses[mix]! : null,
  }));
  return jugDoses(brief, jugs);
}
