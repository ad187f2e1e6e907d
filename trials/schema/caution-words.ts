import { z } from 'zod';

/** Fewer letters than these are no caution in any script. */
const LEAST_LETTERS = 4;

const Wording = z
  .string()
  .max(500)
  .regex(/^[^\p{Cc}\p{Cs}]*$/u, 'text without control characters')
  .refine((text) => text.trim() === '' || isCaution(text), {
    message: `a caution in words (at least ${LEAST_LETTERS} letters), or nothing: then the English stands`,
  });

/**
 * The maker's own wording of the cautions that the workbench adds by itself for the drink, in any language. One that is
 * left out or empty is told in English: none can be made to say nothing.
 */
export const CautionWords = z.object({
  quinine: Wording.optional(),
  caffeine: Wording.optional(),
  /** `[cup]`, `[all]` and `[cups]` stand for the grams in a cup, the grams in all cups, and how many cups. */
  alcohol: Wording.refine((text) => text.trim() === '' || holdsGrams(text), {
    message:
      'a caution with [cup] and [all] in it, where the grams stand, or nothing: then the English stands',
  }).optional(),
});
export type CautionWords = z.infer<typeof CautionWords>;

/** What such a caution is about. */
export type AddedAbout = keyof CautionWords;
export const ADDED_ABOUT = ['quinine', 'caffeine', 'alcohol'] as const satisfies readonly AddedAbout[];

/** Letters that can be seen, so that blanks and signs without width do not pass for words. */
export function isCaution(text: string): boolean {
  return (text.match(/\p{L}/gu)?.length ?? 0) >= LEAST_LETTERS;
}

/** Whether the grams stand in a wording about alcohol. */
export function holdsGrams(text: string): boolean {
  return text.includes('[cup]') && text.includes('[all]');
}
