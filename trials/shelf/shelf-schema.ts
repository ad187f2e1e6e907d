import { z } from 'zod';
import { isCasNumber } from './check-digit.ts';

const Cas = z.string().refine(isCasNumber, 'a CAS number with the right check digit').nullable();
const Percent = z.number().gt(0).max(100);
/** mg/kg of a finished drink, from and to; a starting range, no permission. */
const UseRange = z.tuple([z.number().min(0), z.number().gt(0)]).nullable();

const ShelfMakeup = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('pure'), mayCarry: z.string().optional() }),
  z.strictObject({
    kind: z.literal('complex'),
    complete: z.boolean(),
    constituents: z.array(z.strictObject({ substance: z.string(), cas: Cas, mostPercent: Percent })),
  }),
  z.strictObject({ kind: z.literal('spirit'), percentVol: Percent }),
  z.strictObject({
    kind: z.literal('solution'),
    of: z.string(),
    percent: Percent,
    solvent: z.string(),
    natural: z.boolean().optional(),
  }),
]);

const ShelfMaterial = z.strictObject({
  id: z.string().regex(/^[a-z0-9]+(-[a-z0-9]+)*$/),
  name: z.string().min(1),
  synonyms: z.array(z.string().min(1)),
  kind: z.enum(['aroma chemical', 'essential oil', 'extract', 'carrier', 'stock']),
  cas: Cas,
  fema: z.int().min(2001).max(9999).nullable(),
  /** g/mL at 20 °C. */
  density: z.number().gt(0.5).lt(3).nullable(),
  form: z.string(),
  /** °C. */
  meltingPoint: z.number().nullable(),
  flashPoint: z.number().nullable(),
  odour: z.array(z.string()),
  useLevel: z.strictObject({ clear: UseRange, cloudy: UseRange, source: z.string() }),
  odourThresholdPpb: z.union([z.number(), z.array(z.number())]).nullable(),
  occursIn: z.string().nullable(),
  natural: z.string().nullable(),
  hazards: z.string().nullable(),
  allergens: z.string().nullable(),
  note: z.string().nullable(),
  pricePerGram: z.number().min(0).nullable(),
  /** What time does to it in spirit or a drink, where that is known to matter. */
  ages: z.enum(['aldehyde', 'ester', 'oxidises']).nullable(),
  /** One part of it mixes clear with so many parts and more of ethanol of this strength, as its sheet says (ISO 875). */
  clearIn: z.strictObject({ percentVol: Percent, parts: z.number().gt(0) }).nullish(),
  makeup: ShelfMakeup,
  /** Where each field comes from; `from memory` and inventions say so. */
  sources: z.record(z.string(), z.union([z.string(), z.array(z.string())])),
  verifiedFields: z.array(z.string()),
  verified: z.boolean(),
});
export type ShelfMaterial = z.infer<typeof ShelfMaterial>;

export const ShelfFile = z.strictObject({ note: z.string(), materials: z.array(ShelfMaterial) });

const LegalRow = z.strictObject({
  substance: z.string().min(1),
  cas: Cas,
  limit: z.number().min(0).nullable(),
  unit: z.enum(['mg/kg', 'mg/L', '% vol']),
  asWritten: z.string(),
  kind: z.enum(['maximum', 'banned', 'banned as such', 'declared', 'told', 'repealed']),
  drinks: z.enum(['any', 'alcoholic', 'non-alcoholic']),
  only: z.string().nullable(),
  category: z.string(),
  jurisdiction: z.string(),
  source: z.string().min(1),
  verified: z.boolean(),
  evidence: z.string(),
  note: z.string(),
});

export const LimitsFile = z.strictObject({ note: z.string(), limits: z.array(LegalRow) });
