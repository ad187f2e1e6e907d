import type { Store } from '../store/store.ts';

/** What every use case needs: the data, the time, and who is acting. */
export interface Context {
  store: Store;
  now: () => Date;
  /** Written into the record of acts. */
  who: string;
}

/** The time as it is stored. */
export function timeOf(context: Context): string {
  return context.now().toISOString();
}

/** Records who did what, and that the trial has changed. */
export function record(context: Context, trial: string, act: string, detail: string): void {
  const at = timeOf(context);
  context.store.acts.add(trial, { at, who: context.who, act, detail });
  context.store.trials.touch(trial, at);
}
