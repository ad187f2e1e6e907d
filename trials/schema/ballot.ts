import * as z from 'zod/mini';
import { QUESTION_FORMS } from './scale-form.ts';

/** What a taster's phone is told: codes and questions, never a mix, a component or a ratio. */
export const BallotQuestion = z.object({
  id: z.string(),
  name: z.string(),
  scale: z.tuple([z.number(), z.number()]),
  form: z.enum(QUESTION_FORMS),
  /** The maker's words, from the scale's low end; empty = the page's own in the taster's language. */
  words: z.array(z.string()),
});

export const BallotCup = z.object({
  position: z.number(),
  code: z.string(),
  /** Cups of one part are tasted together and answered together: one cup, or the set of a difference test. */
  part: z.number(),
  /** The practice cup, never analysed. */
  warmup: z.boolean(),
  /** Seconds to rest before this cup may be opened. */
  restSeconds: z.number(),
});

/** A mark, words (where words were asked for), or null = left blank on purpose. */
export const AnswerValue = z.nullable(
  z.union([z.number(), z.string().check(z.regex(/^[^\p{Cc}\p{Cs}]{1,300}$/u))]),
);
export type AnswerValue = z.infer<typeof AnswerValue>;

export const BallotView = z.object({
  sitting: z.string(),
  taster: z.string(),
  /** Which seat of which sitting, for answers that are read in by code. */
  seat: z.string(),
  /** The drink in words that give no formula away. */
  drink: z.string(),
  /** `waiting` = the cups stand ready, the tasting has not begun. */
  state: z.enum(['waiting', 'open', 'closed']),
  consent: z.object({ version: z.string(), cautions: z.array(z.string()), given: z.boolean() }),
  questions: z.array(BallotQuestion),
  /** Whether finished cups may be opened again. */
  goBack: z.boolean(),
  cups: z.array(BallotCup),
  /** Answers the server holds, newest per cup and question. */
  answers: z.array(z.object({ code: z.string(), question: z.string(), value: AnswerValue })),
  /** Other addresses at which the same server may be reached, tried when this one fails. */
  addresses: z.array(z.string()),
});
export type BallotView = z.infer<typeof BallotView>;

/** One answer as the phone sends it; `id` is drawn on the phone, so that a repeat changes nothing twice. */
export const AnswerMessage = z.object({
  id: z.string().check(z.regex(/^[0-9a-f]{32}$/)),
  code: z.string().check(z.regex(/^[0-9]{3}$/)),
  question: z.string().check(z.maxLength(40)),
  value: AnswerValue,
  /** Drawn once by each phone: two phones with one link are told apart. */
  phone: z.string().check(z.regex(/^[0-9a-f]{32}$/)),
  /** Counts up on this phone, so that its late messages do not overwrite its later answers. */
  count: z.int().check(z.gte(0)),
});
export type AnswerMessage = z.infer<typeof AnswerMessage>;

export const AnswerBatch = z.object({
  answers: z.array(AnswerMessage).check(z.minLength(1), z.maxLength(500)),
});

export const AnswerReceipt = z.object({
  stored: z.array(z.string()),
  /** Ids that can never be stored, each with why: the phone drops them from its queue and says so. */
  refused: z.array(z.object({ id: z.string(), because: z.string() })),
  /** `late` = the key was open already: kept and marked. */
  late: z.boolean(),
});
export type AnswerReceipt = z.infer<typeof AnswerReceipt>;

export const ConsentMessage = z.object({
  version: z.string().check(z.maxLength(80)),
  mayTaste: z.literal(true),
});

/** How far a phone has come, for the maker's live page. */
export const ProgressMessage = z.object({ position: z.int().check(z.gte(0), z.lte(200)) });
