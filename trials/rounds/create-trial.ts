import type { TrialView } from '../schema/api.ts';
import { type CheckedBrief, checkBrief } from '../schema/check-brief.ts';
import { refuseLosingBrief } from './brief-change.ts';
import { type Context, record, timeOf } from './context.ts';
import { findTrial } from './find.ts';
import { Refusal } from './refusal.ts';
import { drawTrialId } from './tokens.ts';
import { trialView } from './trial-view.ts';

/**
 * A new trial from a brief.
 * @param value the brief as it came; checked whole
 * @param given the demo's own id and mark
 */
export function createTrial(
  context: Context,
  value: unknown,
  given: { trial?: string; demo?: boolean } = {},
): TrialView {
  const { brief, warnings } = checkedBrief(value);
  const trial = given.trial ?? drawTrialId();
  const at = timeOf(context);
  context.store.write(() => {
    const { store } = context;
    store.trials.add({ trial, name: brief.name, demo: given.demo ?? false, made: at, changed: at });
    store.trials.addBrief(trial, { version: 1, at, brief, warnings });
    record(context, trial, 'made the trial', JSON.stringify(brief.name));
  });
  return trialView(context, trial);
}

/** A new version of a trial's brief; what has been weighed and scored must still fit it. */
export function changeBrief(context: Context, trial: string, value: unknown): TrialView {
  const { brief, warnings } = checkedBrief(value);
  context.store.write(() => {
    const { store } = context;
    const { latest } = findTrial(store, trial);
    if (JSON.stringify(latest.brief) === JSON.stringify(brief)) return;
    refuseLosingBrief(store, trial, latest.brief, brief);
    const version = latest.version + 1;
    store.trials.addBrief(trial, { version, at: timeOf(context), brief, warnings });
    store.trials.rename(trial, brief.name);
    record(context, trial, 'changed the brief', `version ${version}`);
  });
  return trialView(context, trial);
}

/** The brief as it came, judged whole. @throws Refusal with its faults */
export function checkedBrief(value: unknown): CheckedBrief {
  const judged = checkBrief(value);
  if (!('faults' in judged)) return judged;
  const first = judged.faults[0]?.message ?? 'the brief cannot be used';
  throw new Refusal('bad-input', first, judged.faults);
}
