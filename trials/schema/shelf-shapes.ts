import { z } from 'zod';
import { isCasNumber } from '../shelf/check-digit.ts';
import { NumberById } from './shapes.ts';

const text = (least: number, most: number) =>
  z
    .string()
    .trim()
    .regex(
      new RegExp(`^[^\\p{Cc}\\p{Cs}]{${least},${most}}$`, 'u'),
      `${least} to ${most} characters, no control character`,
    );
const Percent = z.number().gt(0, 'above 0 and up to 100 %').max(100, 'above 0 and up to 100 %');
const Grams = z.number().gt(0, 'a mass in grams above 0').max(1e6);
const Density = z.number().gt(0.5, 'a density in g/mL, 0.5 to 3').lt(3, 'a density in g/mL, 0.5 to 3');
const Price = z.number().min(0, 'a price per gram, 0 or more').max(1e6);
const Day = z.iso.date('a day as 2026-03-10');
const Cas = z.string().refine(isCasNumber, 'a CAS number with the right check digit (64-17-5)');
/** FEMA numbers run from 2001 and bear no check digit. */
const Fema = z.int('a whole number').min(2001, 'from 2001').max(9999, 'up to 9999');
const MaterialId = z
  .string()
  .regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'small letters, digits and single hyphens')
  .max(60);

/** A material as the maker enters it, from the bottle or the supplier's sheet; what is not known is left out. */
export const OwnMaterial = z.object({
  name: text(1, 120),
  synonyms: z.array(text(1, 120)).max(20).default([]),
  kind: z.enum(['aroma chemical', 'essential oil', 'extract', 'carrier']),
  cas: Cas.nullable().default(null),
  fema: Fema.nullable().default(null),
  /** g/mL at 20 °C. */
  density: Density.nullable().default(null),
  /** °C. */
  flashPoint: z.number().min(-100).max(400).nullable().default(null),
  pricePerGram: Price.nullable().default(null),
  natural: text(0, 300).default(''),
  allergens: text(0, 300).default(''),
  hazards: text(0, 300).default(''),
  note: text(0, 500).default(''),
  /** What an oil or extract holds that a limit may speak of, at the most. */
  constituents: z
    .array(z.object({ substance: text(1, 120), cas: Cas.nullable().default(null), mostPercent: Percent }))
    .max(50)
    .default([]),
  /** One part of it mixes clear with so many parts and more of ethanol of this strength (as ISO 875). */
  clearIn: z
    .object({ percentVol: Percent, parts: z.number().gt(0, 'parts of alcohol, above 0').max(1000) })
    .nullable()
    .default(null),
  /** The constituents are all that a limit could ask for. */
  complete: z.boolean().default(false),
  /** Where all this stands: the supplier's sheet, its date. */
  source: text(1, 300),
});
export type OwnMaterial = z.infer<typeof OwnMaterial>;

/** A limit of the maker's own: a customer's, or one of the law that the starter list lacks. */
export const OwnLimit = z.object({
  /** The substance or the material as a whole, by the name that formulas know it by. */
  substance: text(1, 120),
  cas: Cas.nullable().default(null),
  limit: z.number().min(0, 'a figure, 0 or more').max(1e6),
  unit: z.enum(['mg/kg', 'mg/L']).default('mg/kg'),
  kind: z.enum(['maximum', 'banned', 'banned as such']).default('maximum'),
  drinks: z.enum(['any', 'alcoholic', 'non-alcoholic']).default('any'),
  /** The category it holds for, where it is not all such drinks (bitters, cola). */
  only: text(1, 200).nullable().default(null),
  jurisdiction: text(1, 60).default('own'),
  source: text(1, 300),
  note: text(0, 500).default(''),
});
export type OwnLimit = z.infer<typeof OwnLimit>;

/** A bottle that came to the shelf. */
export const NewLot = z.object({
  material: z.string().max(200),
  label: text(1, 80),
  grams: Grams,
  strength: Percent.default(100),
  solvent: z.string().max(200).nullable().default(null),
  density: Density.nullable().default(null),
  pricePerGram: Price.nullable().default(null),
  supplier: text(0, 120).default(''),
  opened: Day.nullable().default(null),
  bestBefore: Day.nullable().default(null),
  note: text(0, 500).default(''),
});
export type NewLot = z.infer<typeof NewLot>;

/** What may be put right on a bottle later; grams are counted, never written over. */
export const LotChange = NewLot.pick({
  label: true,
  density: true,
  pricePerGram: true,
  supplier: true,
  opened: true,
  bestBefore: true,
  note: true,
}).partial();

export const LotCount = z.object({
  grams: z.number().min(0, 'a mass in grams, 0 or more').max(1e6),
  why: text(1, 300),
});

/** A stock: so much of one bottle made up with so much of another, or of a solvent that no bottle keeps account of. */
export const NewStock = z.object({
  label: text(1, 80),
  from: z.string(),
  grams: Grams,
  solvent: z.object({
    /** The bottle it comes from; null where no account is kept of it. */
    lot: z.string().nullable().default(null),
    /** The material, where there is no bottle. */
    material: z.string().max(200).nullable().default(null),
    grams: Grams,
  }),
  note: text(0, 500).default(''),
});
export type NewStock = z.infer<typeof NewStock>;

const Verified = z.object({ source: z.string(), verified: z.boolean() });

export const MaterialView = z.object({
  material: MaterialId,
  name: z.string(),
  synonyms: z.array(z.string()),
  kind: z.string(),
  cas: z.string().nullable(),
  fema: z.int().nullable(),
  density: z.number().nullable(),
  flashPoint: z.number().nullable(),
  pricePerGram: z.number().nullable(),
  natural: z.string().nullable(),
  allergens: z.string().nullable(),
  hazards: z.string().nullable(),
  note: z.string().nullable(),
  useLevel: z.object({
    clear: z.tuple([z.number(), z.number()]).nullable(),
    cloudy: z.tuple([z.number(), z.number()]).nullable(),
    source: z.string(),
  }),
  /** How much of which ethanol it mixes clear with, where its sheet says so. */
  clearIn: z.object({ percentVol: z.number(), parts: z.number() }).nullable(),
  constituents: z.array(
    z.object({ substance: z.string(), cas: z.string().nullable(), mostPercent: z.number() }),
  ),
  /** What it is made of, in words. */
  madeOf: z.string(),
  /** The maker's own entry, which goes before the starter shelf's. */
  own: z.boolean(),
  /** Where each field comes from, and whether that was verified. */
  sources: z.record(z.string(), Verified),
});
export type MaterialView = z.infer<typeof MaterialView>;

export const LotView = z.object({
  lot: z.string(),
  material: z.string(),
  label: z.string(),
  /** Grams on hand. */
  grams: z.number(),
  /** Percent by mass of the material in it, through all stocks it was made of. */
  strength: z.number(),
  solvent: z.string().nullable(),
  density: z.number().nullable(),
  pricePerGram: z.number().nullable(),
  supplier: z.string(),
  opened: z.string().nullable(),
  bestBefore: z.string().nullable(),
  /** The day from which its oldest part stands open: a stock is as old as what it was made of. */
  since: z.string().nullable(),
  made: z.string(),
  note: z.string(),
  parts: z.array(z.object({ lot: z.string().nullable(), label: z.string(), grams: z.number() })),
  warnings: z.array(z.string()),
});
export type LotView = z.infer<typeof LotView>;

export const ShelfView = z.object({ materials: z.array(MaterialView), lots: z.array(LotView) });
export type ShelfView = z.infer<typeof ShelfView>;

/** One move of a bottle's account. */
export const MoveView = z.object({
  at: z.string(),
  grams: z.number(),
  /** In words: what it came from or went into. */
  says: z.string(),
  trial: z.string().nullable(),
  round: z.int().nullable(),
  /** Left in the bottle after it. */
  left: z.number(),
});

export const LotAccount = z.object({ lot: LotView, moves: z.array(MoveView) });

/** What every gram of a trial went into. */
export const Ledger = z.object({
  bottles: z.array(
    z.object({
      blend: z.string(),
      round: z.int(),
      at: z.string(),
      /** Weighings of it that no longer count. */
      corrected: z.int(),
      grams: NumberById,
      /** Label of the shelf bottle that each component came from, where one was named. */
      from: z.record(z.string(), z.string()),
      mixes: z.array(z.string()),
      /** Cups poured of it so far. */
      cups: z.int(),
    }),
  ),
  totals: z.array(
    z.object({ component: z.string(), name: z.string(), grams: z.number(), cost: z.number().nullable() }),
  ),
  cost: z.number().nullable(),
});
export type Ledger = z.infer<typeof Ledger>;

/** A limit as the shelf shows it. */
export const LimitView = z.object({
  /** The number by which the maker's own is changed; null for one of the starter list. */
  own: z.int().nullable(),
  substance: z.string(),
  cas: z.string().nullable(),
  limit: z.number().nullable(),
  unit: z.string(),
  kind: z.string(),
  drinks: z.string(),
  only: z.string().nullable(),
  category: z.string(),
  jurisdiction: z.string(),
  source: z.string(),
  verified: z.boolean(),
  note: z.string(),
});
export type LimitView = z.infer<typeof LimitView>;
