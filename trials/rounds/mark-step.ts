import type { z } from 'zod';
import type { RoundView, StepRequest } from '../schema/api.ts';
import { type Context, record, timeOf } from './context.ts';
import { findRound } from './find.ts';
import { roundView } from './round-view.ts';

/** Marks a round as rested, dosed or poured, or takes the mark back; every mark is kept. */
export function markStep(
  context: Context,
  { trial, round }: { trial: string; round: number },
  { step, done, note }: z.infer<typeof StepRequest>,
): RoundView {
  context.store.write(() => {
    findRound(context.store, trial, round);
    context.store.rounds.addMark(trial, { round, step, done, note, at: timeOf(context) });
    record(context, trial, done ? `marked ${step} as done` : `took the mark off ${step}`, `round ${round}`);
  });
  return roundView(context, trial, round);
}
