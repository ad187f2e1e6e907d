import type { OwnMaterial } from '../schema/shelf-shapes.ts';
import { ShelfFile, type ShelfMaterial } from './shelf-schema.ts';

const ENTERED = [
  ...['cas', 'fema', 'density', 'flash_point', 'natural', 'hazards', 'allergens', 'constituents'],
  'clearIn',
];

/** The maker's own entry as the shelf keeps it: its source stands behind every field, and none is verified. */
export function asShelfMaterial(id: string, own: OwnMaterial): ShelfMaterial {
  const { source, constituents, complete, ...rest } = own;
  const material = {
    ...rest,
    id,
    form: '',
    meltingPoint: null,
    odour: [],
    useLevel: { clear: null, cloudy: null, source: 'not entered' },
    odourThresholdPpb: null,
    occursIn: null,
    ages: null,
    makeup:
      own.kind === 'essential oil' || own.kind === 'extract' || constituents.length > 0
        ? { kind: 'complex', constituents, complete }
        : { kind: 'pure' },
    sources: Object.fromEntries(ENTERED.map((field) => [field, source])),
    verifiedFields: [],
    verified: false,
  };
  const [checked] = ShelfFile.parse({ note: '', materials: [material] }).materials;
  return checked as ShelfMaterial;
}

/** The same back in the words of the maker's entry; null for a stock, which is made of bottles. */
export function asOwnMaterial(one: ShelfMaterial): (OwnMaterial & { id: string }) | null {
  const { id, name, synonyms, kind, cas, fema, density, flashPoint, pricePerGram, note, makeup } = one;
  if (kind === 'stock') return null;
  const complex = makeup.kind === 'complex' ? makeup : { constituents: [], complete: false };
  return {
    ...{ id, name, synonyms, kind, cas, fema, density, flashPoint, pricePerGram },
    natural: one.natural ?? '',
    allergens: one.allergens ?? '',
    hazards: one.hazards ?? '',
    note: note ?? '',
    constituents: complex.constituents.map((part) => ({ ...part, cas: part.cas ?? null })),
    clearIn: one.clearIn ?? null,
    complete: complex.complete,
    source: [one.sources['density'] ?? 'not said'].flat().join('; '),
  };
}
