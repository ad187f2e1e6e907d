import { massFractionOf } from '../../engine/bench/alcohol-density.ts';
import type { LotView, MaterialView, ShelfView } from '../schema/shelf-shapes.ts';
import { type Shelf, shelfOf } from '../shelf/shelf.ts';
import type { ShelfMaterial } from '../shelf/shelf-schema.ts';
import type { LotRecord } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import type { Context } from './context.ts';
import { notFound } from './refusal.ts';

/** The maker's own materials before those of the starter shelf. */
export function shelfIn(store: Store): Shelf {
  return shelfOf(store.shelf.materials());
}

/** Materials and bottles as the page shows them. */
export function shelfView(context: Context): ShelfView {
  const { store } = context;
  const own = new Set(store.shelf.materials().map(({ id }) => id));
  const shelf = shelfIn(store);
  return {
    materials: shelf.materials.map((one) => materialView(one, own.has(one.id), shelf)),
    lots: lotViews(context),
  };
}

/** Every bottle with what it holds. */
export function lotViews({ store, now }: Context): LotView[] {
  const lots = new Map(store.shelf.lots().map((lot) => [lot.lot, lot]));
  const onHand = store.shelf.onHand();
  const today = now().toISOString().slice(0, 10);
  return [...lots.values()].map((lot) => lotView(lot, lots, onHand.get(lot.lot) ?? 0, today));
}

/** One bottle. @throws Refusal `not-found` */
export function findLot(context: Context, lot: string): LotView {
  const found = lotViews(context).find((one) => one.lot === lot);
  if (!found) throw notFound(`bottle ${lot} of the shelf`);
  return found;
}

function lotView(
  { lot, material, made, entry }: LotRecord,
  lots: ReadonlyMap<string, LotRecord>,
  onHand: number,
  today: string,
): LotView {
  const { parts, ...rest } = entry;
  const grams = tidy(onHand);
  const since = oldestDay(entry, lots);
  return {
    lot,
    material,
    ...rest,
    grams,
    since,
    made,
    parts: parts.map((part) => ({
      lot: part.lot,
      label: part.lot === null ? part.material : (lots.get(part.lot)?.entry.label ?? part.material),
      grams: part.grams,
    })),
    warnings: [
      ...(entry.bestBefore !== null && entry.bestBefore < today ? [`best before ${entry.bestBefore}`] : []),
      ...(grams <= 0 ? ['empty by its account'] : []),
    ],
  };
}

/** A stock is as old as the oldest of what it was made of; the solvent's age does not count. */
function oldestDay(entry: LotRecord['entry'], lots: ReadonlyMap<string, LotRecord>): string | null {
  const first = entry.parts[0]?.lot;
  const source = first == null ? undefined : lots.get(first);
  const days = [entry.opened, source === undefined ? null : oldestDay(source.entry, lots)];
  return days.filter((day) => day !== null).sort()[0] ?? null;
}

function materialView(one: ShelfMaterial, own: boolean, shelf: Shelf): MaterialView {
  const { id, makeup, useLevel, sources, verifiedFields, ...rest } = one;
  const { name, synonyms, kind, cas, fema, density, flashPoint, pricePerGram } = rest;
  const { natural, allergens, hazards, note, clearIn = null } = rest;
  return {
    material: id,
    ...{ name, synonyms, kind, cas, fema, density, flashPoint, pricePerGram },
    ...{ natural, allergens, hazards, note, useLevel, clearIn, own },
    constituents:
      makeup.kind === 'complex'
        ? makeup.constituents.map((part) => ({ ...part, cas: part.cas ?? null }))
        : [],
    madeOf: madeOf(makeup, shelf),
    sources: Object.fromEntries(
      Object.entries(sources).map(([field, source]) => [
        field,
        { source: [source].flat().join('; '), verified: verifiedFields.includes(field) },
      ]),
    ),
  };
}

function madeOf(makeup: ShelfMaterial['makeup'], shelf: Shelf): string {
  if (makeup.kind === 'pure') return `one substance${makeup.mayCarry ? `; ${makeup.mayCarry}` : ''}`;
  if (makeup.kind === 'spirit')
    return `ethanol and water, ${makeup.percentVol} % by volume (${(100 * massFractionOf(makeup.percentVol)).toFixed(1)} % by mass)`;
  if (makeup.kind === 'solution') {
    const named = (id: string) => shelf.find(id)?.name ?? id;
    return `${makeup.percent} % by mass of ${named(makeup.of)} in ${named(makeup.solvent)}`;
  }
  return makeup.complete
    ? 'an oil or extract; all that limits speak of is known'
    : 'an oil or extract; not all that it holds is known';
}

/** Sums of grams without the dust of binary fractions. */
export function tidy(grams: number): number {
  return Number(grams.toFixed(9));
}
