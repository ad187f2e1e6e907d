import { z } from 'zod';
import type { Limit } from '../../engine/bench/limits.ts';
import { asLimit } from '../shelf/own-limit.ts';
import { asShelfMaterial } from '../shelf/own-material.ts';
import { shelfId } from '../shelf/shelf-id.ts';
import type { ShelfMaterial } from '../shelf/shelf-schema.ts';
import { FaultList, type Refused } from './faults.ts';
import { addIssues, type Locate, pathText } from './schema-faults.ts';
import { OwnLimit, OwnMaterial } from './shelf-shapes.ts';
import { unknownFields } from './unknown-fields.ts';

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
  limits: Limit[];
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
    limits: parsed.data.limits.map(asLimit),
    warnings: unknownFields(OwnMaterials, value).map((path) => `${locate(path)}: unknown field, passed over`),
  };
}
