import { z } from 'zod';

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
