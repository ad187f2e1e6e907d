import { z } from 'zod';
import { AttributeTarget, Id, Name } from './brief.ts';
import { ErrorAnswer } from './fault-shapes.ts';
import { NumberById } from './number-by-id.ts';

/** A long computation in a worker thread. `result` appears when done. */
export const Job = z.object({
  job: z.string(),
  kind: z.enum(['plan', 'read', 'next', 'predict']),
  state: z.enum(['running', 'done', 'failed', 'cancelled']),
  share: z.number(),
  doing: z.string(),
  /** The stored reading that holds the result. */
  reading: z.string().nullable(),
  error: ErrorAnswer.shape.error.nullable(),
});
export type Job = z.infer<typeof Job>;

/** What was computed, from what: input, seed and version are enough to compute it again. */
export const Reading = z.object({
  reading: z.string(),
  kind: z.enum(['plan', 'read', 'next', 'predict']),
  round: z.int().nullable(),
  at: z.string(),
  seed: z.int(),
  version: z.string(),
  input: z.unknown(),
  /** The same document the command prints with --json; for `read`: {panel, fit}. */
  result: z.unknown(),
});
export type Reading = z.infer<typeof Reading>;

/** Two mixes on one attribute: a minus b, with Tukey's p. */
export const PairOfMixes = z.looseObject({
  a: z.string(),
  b: z.string(),
  difference: z.number(),
  standardError: z.number().nullable(),
  denDf: z.number().nullable(),
  p: z.number().nullable(),
});
export type PairOfMixes = z.infer<typeof PairOfMixes>;

const Place = z.object({
  ratios: z.record(z.string(), z.number()),
  settings: z.record(z.string(), z.number()).default({}),
});

export const PlanRequest = z.object({
  mixes: z.int().min(1).max(200),
  model: z.enum(['linear', 'quadratic', 'special-cubic', 'full-cubic', 'log-ratio']).optional(),
  criterion: z.enum(['average-variance', 'determinant']).optional(),
  replicated: z.int().min(0).max(100).optional(),
  sittings: z.int().min(1).max(50).optional(),
  /** Scatter of one score in scale units; left out, what the last reading found, else an assumed one. */
  noise: z.number().gt(0).optional(),
  /** Three sizes of plan side by side, and knowledge against the number of mixes. */
  compare: z.boolean().optional(),
  /** Most grams of a component in all new mixes together, by id. */
  atMost: z.record(z.string(), z.number().gt(0)).optional(),
  /** A published set of points, where the bounds leave a simplex. */
  points: z.enum(['lattice', 'centroid', 'axial']).optional(),
  /** Mixes that tell who belongs in the blend at all. */
  screen: z.boolean().optional(),
  /** Mixes poured from each bottle, at different settings. */
  perBottle: z.int().min(1).max(81).optional(),
  /** Part of the knowledge that may be lost for a cheaper plan, and what is spared instead of money. */
  thrift: z.number().gt(0).lt(1).optional(),
  spare: z.array(Id).max(12).optional(),
  /** Mixes that are settled beforehand, and mixes to keep away from. */
  pinned: z.array(Place).max(200).optional(),
  /** Plays the plan on invented truths before anything is weighed. */
  rehearse: z
    .object({
      difficulty: z.enum(['easy', 'middling', 'hard']),
      truths: z.int().min(1).max(400).optional(),
      rounds: z.int().min(0).max(5).optional(),
    })
    .optional(),
  forbidden: z.array(Place).max(200).optional(),
  seed: z.int().min(0).max(4294967295).optional(),
});

/** Targets and limits to try out without changing the brief or tasting anything. */
export const WhatIf = z.object({
  targets: z.record(Id, AttributeTarget).default({}),
  components: z.record(Id, z.object({ low: z.number().optional(), high: z.number().optional() })).default({}),
});
export type WhatIf = z.infer<typeof WhatIf>;

export const NextRequest = z.object({
  /** Grams on hand by component id, where something is short. */
  onHand: z.record(Id, z.number().min(0)).optional(),
  whatIf: WhatIf.optional(),
  count: z.int().min(1).max(20),
  seed: z.int().min(0).max(4294967295).optional(),
  /** Assessors whose scores are left out. */
  setAside: z.array(Name).default([]),
});

export const PredictRequest = z.object({
  setAside: z.array(Name).default([]),
  rows: z
    .array(z.object({ name: z.string().optional(), ratios: NumberById, settings: NumberById }))
    .min(1)
    .max(500),
});
