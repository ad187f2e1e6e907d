import { z } from 'zod';
import { Name } from './brief.ts';

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
