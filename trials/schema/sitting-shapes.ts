import { z } from 'zod';
import { Name } from './brief.ts';
import { NumberById } from './number-by-id.ts';
import { QUESTION_FORMS, TEST_FORMS } from './scale-form.ts';

export const SittingSummary = z.object({
  sitting: z.string(),
  label: Name,
  state: z.enum(['poured', 'open', 'closed']),
  key: z.enum(['sealed', 'opened']),
  assessors: z.array(Name),
  /** What is poured, in no order of serving; the reference and the warm-up are left out. */
  mixes: z.array(Name),
  cups: z.int(),
  answers: z.int(),
  answersExpected: z.int(),
  /** Answers that came after the key was opened: kept, marked, not read. */
  late: z.int(),
  /** Assessors who know the formula. */
  knowing: z.array(Name),
  /** Pure ethanol in all cups of one taster, in grams; null where the brief does not say enough. */
  ethanolGrams: z.number().nullable(),
  /** A difference test rather than scores. */
  test: z.enum(TEST_FORMS).nullable(),
  /** Codes whose name under the cup has not been entered yet. */
  unnamed: z.array(z.string()),
  /** Entered from old files. */
  old: z.boolean(),
  /** What may spoil it, each in a sentence. */
  warnings: z.array(z.string()),
});
export type SittingSummary = z.infer<typeof SittingSummary>;

/** What a test is to show, fixed before it is poured. */
export const Claim = z.object({
  /** That too few can tell to matter, that people can tell, or that one is preferred. */
  kind: z.enum(['alike', 'different', 'preferred']),
  /** The share of tasters who can tell from which on it would matter; for `alike`. */
  limit: z.number().gt(0).lt(1).default(0.3),
  alpha: z.number().gt(0).lt(0.5).default(0.05),
});
export type Claim = z.infer<typeof Claim>;

export const SittingRequest = z.object({
  label: Name,
  assessors: z.array(Name).min(1).max(500),
  /** Assessors who know the formula; their scores are read with and without. */
  knowing: z.array(Name).default([]),
  mixes: z.array(Name).min(1),
  replicates: z.int().min(1).max(20).default(1),
  reference: z.boolean().default(true),
  warmup: z.boolean().default(false),
  /** Seconds between two cups (default 60, 120 where the brief says that the taste lingers), and after every fourth. */
  restSeconds: z.int().min(0).max(3600).optional(),
  longRestSeconds: z.int().min(0).max(3600).default(600),
  /** Finished cups may be opened again. */
  goBack: z.boolean().default(false),
  /**
   * Can two drinks be told apart, instead of scores: the two are the mixes and the reference asked for; `replicates`
   * counts the sets for each taster. `of` is what the stronger one has more of, `stronger` the drink that should.
   */
  test: z
    .object({
      form: z.enum(TEST_FORMS),
      of: z.string().max(200).default(''),
      stronger: Name.optional(),
      claim: Claim.optional(),
    })
    .optional(),
  /**
   * True where one person does everything: the names stand under the cups, somebody sticks on the drawn codes without
   * looking, and the names are read and entered after the last ballot.
   */
  alone: z.boolean().default(false),
});
export type SittingRequest = z.infer<typeof SittingRequest>;

/** Links are shown once, when the sitting is drawn or a link is renewed: only their hashes are stored. */
export const SittingLinks = z.object({
  sitting: z.string(),
  links: z.array(z.object({ assessor: Name, address: z.string(), qr: z.string() })),
});

export const Live = z.object({
  sitting: z.string(),
  state: z.enum(['poured', 'open', 'closed']),
  /** The workbench's clock, by which `quietFrom` is told. */
  now: z.string(),
  trays: z.array(
    z.object({
      assessor: Name,
      mayTaste: z.boolean(),
      cups: z.int(),
      /** Cups with every question answered. */
      filled: z.int(),
      at: z.int(),
      lastHeard: z.string().nullable(),
      /** Phones heard with this link; more than one is worth a look. */
      phones: z.int(),
      /** Answers on which two phones with this link disagree; the latest counts. */
      clashes: z.int(),
      late: z.int(),
      absent: z.boolean(),
      /** Cups left behind with marks missing, by code; counts only. */
      gaps: z.array(z.object({ code: z.string(), missing: z.int() })),
      /** From then on silence of this phone is worth a look; null = nothing is expected. */
      quietFrom: z.string().nullable(),
    }),
  ),
});
export type Live = z.infer<typeof Live>;

export const PouringSheet = z.object({
  trial: z.string(),
  sitting: z.string(),
  label: Name,
  cupMillilitres: z.number().nullable(),
  /** What tasters are told before the first cup, word for word as on their ballots. */
  cautions: z.array(z.string()),
  trays: z.array(
    z.object({
      assessor: Name,
      cups: z.array(
        z.object({
          position: z.int(),
          code: z.string(),
          /** Empty while the name under the cup has not been read. */
          mix: z.string(),
          /** Cups of one part are answered together: a set of a difference test. */
          part: z.int(),
        }),
      ),
    }),
  ),
  /** What is asked, as it stood when the sitting was drawn. */
  questions: z.array(
    z.object({
      id: z.string(),
      name: z.string(),
      scale: z.tuple([z.number(), z.number()]),
      form: z.enum(QUESTION_FORMS),
      words: z.array(z.string()),
    }),
  ),
  /** Drinks whose names stand under the cups, once for each cup of one taster, in no order that tells a code. */
  hidden: z.array(Name),
  /** Dose of each mix in mL per litre of drink, where the brief has one. */
  doses: NumberById,
});
export type PouringSheet = z.infer<typeof PouringSheet>;

/** What a difference test came to, once its key is open. */
export const TestReading = z.object({
  sitting: z.string(),
  method: z.enum(TEST_FORMS),
  of: z.string(),
  trials: z.int(),
  correct: z.int(),
  byAssessor: z.array(z.object({ assessor: Name, trials: z.int(), correct: z.int() })),
  /** Null where nobody has answered. */
  result: z
    .object({
      p: z.number(),
      needed: z.int().nullable(),
      proportionAbove: z.number(),
      interval: z.tuple([z.number(), z.number()]),
      dPrime: z.number().nullable(),
      says: z.string(),
    })
    .nullable(),
  /** What came of the claim that it was poured for; null where there was none, or nobody has answered. */
  claim: z
    .object({
      kind: Claim.shape.kind,
      shown: z.boolean(),
      /** Right answers, or choices of the new mix, that would do with so many answers; null where none would. */
      bound: z.int().nullable(),
      /** Answers that it would take, four times in five, if it is so. */
      wouldTake: z.int().nullable(),
      says: z.string(),
    })
    .nullable(),
});
export type TestReading = z.infer<typeof TestReading>;

/** Names read under the cups of a sitting that one person holds alone. */
export const CupNames = z.object({
  names: z
    .array(z.object({ code: z.string().regex(/^[0-9]{3}$/), mix: Name }))
    .min(1)
    .max(900),
});

export const KeyRequest = z.object({ why: z.string().min(1).max(500) });

/** A link that opens one sitting's pouring page. */
export const PourerLink = z.object({ address: z.string(), qr: z.string() });
