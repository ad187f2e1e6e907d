import {
  type ChainLink,
  isDoubtful,
  type JudgedLink,
  type WaterShy,
} from '../../engine/bench/falling-out.ts';
import type { Line, Materials } from '../../engine/bench/material.ts';
import { strengthOf } from '../../engine/bench/strength.ts';
import type { Shelf } from './shelf.ts';
import type { ShelfMaterial } from './shelf-schema.ts';

/** Beside oils: substances that the shelf says fall out of water. */
const WATER_SHY = ['d-limonene', 'trans-anethole'];

/** Whether it is judged at all: oils, and what behaves as they do. */
export function dislikesWater({ kind, id }: ShelfMaterial): boolean {
  return kind === 'essential oil' || WATER_SHY.includes(id);
}

/** What a material brings into a liquid that holds so much of it. */
export function waterShy({ name, clearIn, sources }: ShelfMaterial, mgPerKg: number | null): WaterShy {
  const source = [sources['clearIn'] ?? 'its sheet'].flat().join('; ');
  return { name, mgPerKg, clearIn: clearIn ? { ...clearIn, source } : null };
}

/** A liquid that some lines make, as it stands in its bottle. */
export function linkOfLines(
  place: string,
  lines: readonly Line[],
  { materials, shelf }: { materials: Materials; shelf: Shelf },
): ChainLink {
  const { percentVol, substances } = strengthOf(lines, materials);
  const holds = substances.flatMap(({ id, share }) => {
    const known = shelf.find(id);
    return known && dislikesWater(known) ? [waterShy(known, 1e6 * share)] : [];
  });
  return { place, percentVol, holds };
}

/** The same oils further down the chain: so many grams of the liquid above in a kilogram of this one. */
export function diluted(
  { holds }: ChainLink,
  place: string,
  percentVol: number | null,
  gramsPerKilogram: number | null,
): ChainLink {
  return {
    place,
    percentVol,
    holds: holds.map((one) => ({
      ...one,
      mgPerKg:
        one.mgPerKg === null || gramsPerKilogram === null ? null : (one.mgPerKg * gramsPerKilogram) / 1000,
    })),
  };
}

/** Lines that are solutions of an oil, each as a bottle of its own: neat ones dissolve nothing yet. */
export function stockLinks(
  lines: readonly Line[],
  known: { materials: Materials; shelf: Shelf },
): ChainLink[] {
  return lines
    .filter(({ grams }) => grams > 0)
    .map((line) => linkOfLines(line.name, [line], known))
    .filter(({ holds }) => {
      const share = holds.reduce((sum, { mgPerKg }) => sum + (mgPerKg ?? 0), 0);
      return share > 0 && share < 0.999e6;
    });
}

/** What is said of places in doubt, as cautions. */
export function hazeCautions(
  links: readonly JudgedLink[],
): { about: 'haze'; text: string; source: string }[] {
  return links.filter(isDoubtful).map(({ says, source }) => ({ about: 'haze' as const, text: says, source }));
}
