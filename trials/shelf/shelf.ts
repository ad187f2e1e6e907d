import { readFileSync } from 'node:fs';
import type { Volatility } from '../../engine/bench/material.ts';
import { ShelfFile, type ShelfMaterial } from './shelf-schema.ts';

let read: readonly ShelfMaterial[] | undefined;

/** The starter shelf, read once. */
export function shelfMaterials(): readonly ShelfMaterial[] {
  read ??= ShelfFile.parse(
    JSON.parse(readFileSync(new URL('materials.json', import.meta.url), 'utf8')),
  ).materials;
  return read;
}

/** Materials that formulas are read against. */
export interface Shelf {
  materials: readonly ShelfMaterial[];
  /** The material with this id, name or other name, whatever its capitals; ids go before names, names before others. */
  find(idOrName: string): ShelfMaterial | undefined;
}

let starter: Shelf | undefined;

/** The starter shelf alone. */
export function starterShelf(): Shelf {
  starter ??= shelfOf([]);
  return starter;
}

/** The maker's own materials before those of the starter shelf; an own one of the same id stands in for it. */
export function shelfOf(own: readonly ShelfMaterial[]): Shelf {
  const ids = new Set(own.map(({ id }) => id));
  const materials = [...own, ...shelfMaterials().filter(({ id }) => !ids.has(id))];
  const named = namesOf(materials);
  return { materials, find: (idOrName) => named.get(plain(idOrName)) };
}

/** The material of the starter shelf with this id or name. */
export function findMaterial(idOrName: string): ShelfMaterial | undefined {
  return starterShelf().find(idOrName);
}

function namesOf(materials: readonly ShelfMaterial[]): Map<string, ShelfMaterial> {
  const byName = new Map<string, ShelfMaterial>();
  const kinds: ((material: ShelfMaterial) => string[])[] = [
    ({ id }) => [id],
    ({ name }) => [name],
    ({ synonyms }) => synonyms,
  ];
  for (const namesIn of kinds)
    for (const material of materials)
      for (const name of namesIn(material)) {
        const key = plain(name);
        if (!byName.has(key)) byName.set(key, material);
      }
  return byName;
}

/** A name as names are compared: small letters, single spaces. */
export function plain(name: string): string {
  return name.trim().toLowerCase().replace(/\s+/g, ' ');
}

/** How soon it leaves an open vessel, by flash point: below 60 °C soon, from 90 °C and as crystals late. */
export function volatilityOf({ kind, form, flashPoint }: ShelfMaterial): Volatility {
  if (kind === 'carrier') return 'carrier';
  if (form.startsWith('crystals')) return 'low';
  if (flashPoint === null) return 'middle';
  if (flashPoint < 60) return 'high';
  return flashPoint >= 90 ? 'low' : 'middle';
}
