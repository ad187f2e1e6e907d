import { z } from 'zod';
import { AttributeTarget, Brief, Id, Name } from './brief.ts';
import { QUESTION_FORMS, TEST_FORMS } from './scale-form.ts';

/** One fault in what was sent or read: where, what was found, what is allowed. */
export const Fault = z.object({
  where: z.string(),
  found: z.string().optional(),
  allowed: z.string().optional(),
  message: z.string(),
});
export type Fault = z.infer<typeof Fault>;

/** The one shape of every refused request. */
export const ErrorAnswer = z.object({
  error: z.object({
    code: z.enum([
      'bad-input',
      'not-allowed',
      'not-found',
      'conflict',
      'too-large',
      'too-many',
      'unavailable',
      'internal',
    ]),
    message: z.string(),
    faults: z.array(Fault),
  }),
});
export type ErrorAnswer = z.infer<typeof ErrorAnswer>;

export const NumberById = z.record(z.string(), z.number());

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

export const TrialSummary = z.object({
  trial: z.string(),
  name: z.string(),
  demo: z.boolean(),
  changed: z.string(),
  rounds: z.int(),
  /** One sentence: where the trial stands. */
  stands: z.string(),
  /** What its brief names: components, settings, questions, words to find it by. */
  names: z.array(z.string()),
});

export const TrialView = TrialSummary.extend({
  brief: Brief,
  briefVersion: z.int(),
  warnings: z.array(z.string()),
  /** Order of pouring by component: 0 carriers and what lasts, 3 top notes; common practice, no published source. */
  pouring: z.record(z.string(), z.int()),
  roundViews: z.array(RoundView),
  /** Latest stored reading of each kind, for deep links. */
  readings: z.array(
    z.object({ reading: z.string(), kind: z.string(), round: z.int().nullable(), at: z.string() }),
  ),
});
export type TrialView = z.infer<typeof TrialView>;

export const Act = z.object({ at: z.string(), who: z.string(), act: z.string(), detail: z.string() });

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

/** Accepts a plan or a set of proposals as a new round; `only` names the mixes to keep. */
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

/** A round for the proof: the formula weighed afresh, beside an earlier mix where it is held against one. */
export const ProofRequest = z.object({
  /** The stored proposals whose best is to be proved. */
  reading: z.string(),
  against: Name.nullable().default(null),
  restHours: z.number().min(0).max(10000).default(24),
});

/** Names read under the cups of a sitting that one person holds alone. */
export const CupNames = z.object({
  names: z
    .array(z.object({ code: z.string().regex(/^[0-9]{3}$/), mix: Name }))
    .min(1)
    .max(900),
});

/** What came of a code that a phone showed and the maker read in. */
export const CarriedCode = z.object({
  sitting: z.string(),
  assessor: Name,
  part: z.int(),
  parts: z.int(),
  stored: z.int(),
  refused: z.array(z.object({ code: z.string(), because: z.string() })),
  late: z.boolean(),
});

export const KeyRequest = z.object({ why: z.string().min(1).max(500) });

const PaperValue = z.union([z.number(), z.string().regex(/^[^\p{Cc}\p{Cs}]{1,300}$/u)]).nullable();

/** A taster's marks on paper, entered from the keyboard. */
export const PaperBallot = z.object({
  assessor: Name,
  answers: z
    .array(
      z.object({
        code: z.string().regex(/^[0-9]{3}$/),
        question: z.string().max(40),
        value: PaperValue,
      }),
    )
    .min(1)
    .max(2000),
});
export type PaperBallot = z.infer<typeof PaperBallot>;

/** A paper ballot entered twice: where the two entries differ; `undefined` = not entered that time. */
export const PaperCheck = z.object({
  same: z.int(),
  differences: z.array(
    z.object({
      code: z.string(),
      question: z.string(),
      first: PaperValue.optional(),
      second: PaperValue.optional(),
    }),
  ),
});
export type PaperCheck = z.infer<typeof PaperCheck>;

/** A link that opens one sitting's pouring page. */
export const PourerLink = z.object({ address: z.string(), qr: z.string() });

/** A copy of the data file, beside it. */
export const Backup = z.object({ backup: z.string(), at: z.string(), bytes: z.int() });
export type Backup = z.infer<typeof Backup>;
