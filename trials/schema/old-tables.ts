import { z } from 'zod';
import { Brief, Name } from './brief.ts';
import { Fault } from './shapes.ts';

/** What a column of an old file may hold. `pass` = nothing that is needed. */
export const OLD_ROLES = [
  'mix',
  'blend',
  'component',
  'setting',
  'assessor',
  'session',
  'replicate',
  'position',
  'attribute',
  'pass',
] as const;
export type OldRole = (typeof OLD_ROLES)[number];

/**
 * What one column is. `of` names the component (`pepper`, `pepper@5` for grams of a 5 % stock), setting or attribute
 * of the brief; in a new trial it is left out and the column makes one of its own. `scale` belongs to the attributes
 * of a new trial.
 */
export const OldColumn = z.object({
  as: z.enum(OLD_ROLES),
  of: z.string().max(60).optional(),
  scale: z.tuple([z.number(), z.number()]).optional(),
});
export type OldColumn = z.infer<typeof OldColumn>;

/**
 * An old file as it stands on disk, in base64, so that its encoding is judged where it is read. Without `columns` they
 * are guessed.
 */
export const OldTable = z.object({
  name: z.string().min(1).max(200),
  base64: z.base64().max(12_000_000),
  columns: z.array(OldColumn).max(300).optional(),
});
export type OldTable = z.infer<typeof OldTable>;

/** Old data for a trial that exists, or (`trial` null) for a new one. */
export const OldTables = z.object({
  trial: z.string().max(80).nullable(),
  /** The new trial's name. */
  name: z.string().max(200).default(''),
  mixes: OldTable,
  scores: OldTable,
  /** Put before the names of mixes, bottles and sessions, where the trial has others of the same name. */
  before: z.string().max(20).default(''),
  /** What the file of scores calls the drink that is to be matched. */
  reference: z.string().max(80).default(''),
  /** Assessors who knew what they had in hand. */
  knowing: z.array(Name).max(200).default([]),
});
export type OldTables = z.infer<typeof OldTables>;

const LookedTable = z.object({
  columns: z.array(OldColumn.extend({ heading: z.string() })),
  /** The first rows, and those that are at fault. */
  rows: z.array(z.object({ line: z.int(), cells: z.array(z.string()) })),
  /** All rows of the file. */
  count: z.int(),
});
export type LookedTable = z.infer<typeof LookedTable>;

/** What old files hold, seen before anything is stored. */
export const OldLook = z.object({
  mixes: LookedTable,
  scores: LookedTable,
  faults: z.array(Fault),
  warnings: z.array(z.string()),
  /** The brief they would be read with: the trial's own, or the one that the columns make. */
  brief: Brief.nullable(),
  /** What would be stored; null while there are faults. */
  found: z
    .object({
      mixes: z.int(),
      bottles: z.int(),
      assessors: z.array(z.string()),
      sessions: z.array(z.string()),
      cups: z.int(),
      answers: z.int(),
      missing: z.int(),
    })
    .nullable(),
});
export type OldLook = z.infer<typeof OldLook>;
