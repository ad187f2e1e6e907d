import { signal } from '@preact/signals';
import type { RoundView, TrialView } from '../../trials/schema/api.ts';
import { type Loaded, troubleOf } from './loaded.ts';
import { ask } from './server.ts';

/** The trial whose pages are open. */
export const openTrial = signal<Loaded<TrialView>>({ state: 'loading' });
let asked = '';

/** Opens a trial, keeping what is shown while the same one is fetched anew. */
export async function openTrialOf(trial: string): Promise<void> {
  const same = asked === trial;
  asked = trial;
  if (!same) openTrial.value = { state: 'loading' };
  try {
    const value = await ask('readTrial', { trial });
    if (asked === trial) openTrial.value = { state: 'here', value };
  } catch (thrown) {
    const trouble = troubleOf(thrown);
    // A lost line takes no page away: what is typed there is sent again, and says then what is wrong.
    const kept = openTrial.value.state === 'here' && trouble.state === 'failed';
    if (asked === trial && !kept) openTrial.value = trouble;
  }
}

/** Nothing is open, as on the list of trials. */
export function closeTrial(): void {
  asked = '';
  openTrial.value = { state: 'loading' };
}

/** Shows a trial that the workbench has just answered with. */
export function showTrial(value: TrialView): void {
  asked = value.trial;
  openTrial.value = { state: 'here', value };
}

/** Puts a changed round where it belongs, then fetches what else may have changed. */
export function showRound(trial: string, round: RoundView): void {
  const open = openTrial.value;
  if (open.state === 'here' && open.value.trial === trial)
    openTrial.value = { state: 'here', value: withRound(open.value, round) };
  void openTrialOf(trial);
}

/** A trial with one of its rounds replaced or added. */
export function withRound(trial: TrialView, round: RoundView): TrialView {
  const others = trial.roundViews.filter((one) => one.round !== round.round);
  const roundViews = [...others, round].sort((a, b) => a.round - b.round);
  return { ...trial, roundViews, rounds: roundViews.length };
}
