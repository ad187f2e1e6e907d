import type { Volatility } from '../../engine/bench/material.ts';
import type { Brief } from '../schema/brief.ts';
import { type Shelf, volatilityOf } from '../shelf/shelf.ts';

const RANK: Readonly<Record<Volatility, number>> = { carrier: 0, low: 1, middle: 2, high: 3 };

/**
 * When each component is poured: what lasts first, top notes last (common practice, no published source). A dilution
 * leaves the vessel as what is dissolved in it does; what the shelf does not know stands in the middle.
 */
export function pouringRanks({ components }: Brief, shelf: Shelf): Record<string, number> {
  return Object.fromEntries(
    components.map(({ id, name, material }) => {
      const known = shelf.find(material ?? id) ?? shelf.find(name);
      const within = known?.makeup.kind === 'solution' ? shelf.find(known.makeup.of) : known;
      return [id, RANK[within === undefined ? 'middle' : volatilityOf(within)]];
    }),
  );
}
