import { z } from 'zod';
import { Name } from './brief.ts';
import { NumberById } from './number-by-id.ts';
import { SittingSummary } from './sitting-shapes.ts';

export const StepName = z.enum(['plan', 'weigh', 'rest', 'dose', 'pour', 'taste', 'read']);
export type StepName = z.infer<typeof StepName>;

/** A step of a round as the spine shows it. */
export const Step = z.object({
  step: StepName,
  state: z.enum(['waiting', 'now', 'done']),
  /** One sentence: what has been done or is left to do. */
  says: z.string(),
});

export const RoundMix = z.object({
  mix: Name,
  blend: Name,
  /** This mix is a fresh weighing of another. */
  repeats: z.string().nullable(),
  /** An earlier mix poured once more under its own name. */
  again: z.boolean(),
  planned: z.object({
    ratios: NumberById,
    grams: NumberById,
    settings: NumberById,
    /** Weighings where a stock stands in for a component (percent by mass of it); else its grams are weighed. */
    weigh: z.array(z.object({ component: z.string(), strength: z.number(), grams: z.number() })).optional(),
  }),
  /** Grams as weighed; null until weighed. */
  weighed: NumberById.nullable(),
  weighedAt: z.string().nullable(),
  /** Bottles of the shelf that its components came from, where named. */
  lots: z.record(z.string(), z.string()),
  why: z.string(),
  note: z.string(),
});
export type RoundMix = z.infer<typeof RoundMix>;

export const RoundView = z.object({
  round: z.int(),
  state: z.enum(['open', 'read']),
  steps: z.array(Step),
  mixes: z.array(RoundMix),
  sittings: z.array(SittingSummary),
  /** The plan or proposals this round was accepted from. */
  reading: z.string().nullable(),
  restHours: z.number(),
});
export type RoundView = z.infer<typeof RoundView>;

/** A mix that the maker set by hand. */
export const OwnMix = z.object({ grams: NumberById, settings: NumberById.default({}) });

/** A round of a plan's or of proposed mixes (all, or `only` some), of the maker's own, or of both. */
export const RoundRequest = z
  .object({
    reading: z.string().optional(),
    only: z.array(Name).optional(),
    own: z.array(OwnMix).max(40).optional(),
    restHours: z.number().min(0).max(10000).default(24),
  })
  .refine(({ reading, own }) => reading !== undefined || (own !== undefined && own.length > 0), {
    message: 'a plan or proposals (reading), mixes of your own (own), or both',
    path: ['reading'],
  });

export const WeighingRequest = z.object({
  grams: NumberById,
  note: z.string().max(500).default(''),
  /** Bottle of the shelf that each component came from; left out, those of the weighing before stay. */
  lots: z.record(z.string(), z.string().max(40)).optional(),
});

export const StepRequest = z.object({
  step: z.enum(['rest', 'dose', 'pour']),
  done: z.boolean(),
  note: z.string().max(500).default(''),
});

/** A round for the proof: the formula weighed afresh, beside an earlier mix where it is held against one. */
export const ProofRequest = z.object({
  /** The stored proposals whose best is to be proved. */
  reading: z.string(),
  against: Name.nullable().default(null),
  restHours: z.number().min(0).max(10000).default(24),
});
