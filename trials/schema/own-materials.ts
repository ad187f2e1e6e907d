import { z } from 'zod';
import { isCasNumber } from '../shelf/check-digit.ts';
import { asShelfMaterial } from '../shelf/own-material.ts';
import { shelfId } from '../shelf/shelf-id.ts';
import type { ShelfMaterial } from '../shelf/shelf-schema.ts';
import { FaultList, type Refused } from './faults.ts';
import { addIssues, type Locate, pathText } from './schema-faults.ts';
import { OwnMaterial } from './shelf-shapes.ts';
import { unknownFields } from './unknown-fields.ts';

/** A limit of one's own: a customer's, or one of the law that the starter list lacks. */
const OwnLimit = z.object({
  substance: z.string().min(1).max(120),
  cas: z
    .string()
    .refine(isCasNumber, 'a CAS number with the right check digit (64-17-5)')
    .nullable()
    .default(null),
  limit: z.number().min(0),
  unit: z.enum(['mg/kg', 'mg/L']).default('mg/kg'),
  kind: z.enum(['maximum', 'banned', 'banned as such']).default('maximum'),
  drinks: z.enum(['any', 'alcoholic', 'non-alcoholic']).default('any'),
  jurisdiction: z.string().min(1).max(60).default('own'),
  source: z.string().min(1).max(300),
  note: z.string().max(500).default(''),
});

/** `materials.json`: the maker's own materials, and limits of their own, for the command. */
export const OwnMaterials = z.object({
  format: z.literal('materials/1'),
  materials: z.array(
    OwnMaterial.extend({
      /** By which formulas and briefs name it; made of the name where it is left out. */
      id: z
        .string()
        .regex(/^[a-z0-9]+(-[a-z0-9]+)*$/, 'small letters, digits and single hyphens')
        .max(60)
        .optional(),
    }),
  ),
  limits: z.array(OwnLimit).default([]),
});

export interface OwnShelf {
  materials: ShelfMaterial[];
  /** As the starter list's, none of them verified. */
  limits: (z.infer<typeof OwnLimit> & { only: null; verified: false; category: string })[];
  warnings: string[];
}

/** Judges a file of own materials: shape, then that no two have one id. */
export function checkMaterials(value: unknown, locate: Locate = pathText): OwnShelf | Refused {
  const faults = new FaultList();
  const parsed = OwnMaterials.safeParse(value);
  if (!parsed.success) {
    addIssues(parsed.error.issues, value, locate, faults);
    return { faults: faults.list() };
  }
  const seen = new Set<string>();
  const materials = parsed.data.materials.map(({ id, ...own }, index) => {
    const named = id ?? shelfId(own.name);
    if (seen.has(named))
      faults.add(locate(['materials', index, 'id']), named, 'an id that no other of these materials has');
    seen.add(named);
    return asShelfMaterial(named, own);
  });
  if (faults.count > 0) return { faults: faults.list() };
  return {
    materials,
    limits: parsed.data.limits.map((one) => ({ ...one, only: null, verified: false, category: '' })),
    warnings: unknownFields(OwnMaterials, value).map((path) => `${locate(path)}: unknown field, passed over`),
  };
}
