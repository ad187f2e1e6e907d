import { z } from 'zod';
import { Brief } from './brief.ts';
import { RoundView } from './round-shapes.ts';

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
  /** Whether a card that holds all rounds so far is published. */
  published: z.boolean(),
  /** Latest stored reading of each kind, for deep links. */
  readings: z.array(
    z.object({ reading: z.string(), kind: z.string(), round: z.int().nullable(), at: z.string() }),
  ),
});
export type TrialView = z.infer<typeof TrialView>;

export const Act = z.object({ at: z.string(), who: z.string(), act: z.string(), detail: z.string() });

/** A copy of the data file, beside it. */
export const Backup = z.object({ backup: z.string(), at: z.string(), bytes: z.int() });
export type Backup = z.infer<typeof Backup>;
