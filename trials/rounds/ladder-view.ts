import type { LadderTray, LadderView } from '../schema/api.ts';
import type { LadderRecord } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import { findTrial } from './find.ts';
import { notFound } from './refusal.ts';

/** Every ladder of a trial, oldest first, those put away among them. */
export function ladderViews(store: Store, trial: string): LadderView[] {
  findTrial(store, trial);
  return store.ladders.list(trial).map((record) => viewOf(store, trial, record));
}

/** One ladder with what was answered on it. Throws `not-found`. */
export function ladderView(store: Store, trial: string, ladder: number): LadderView {
  findTrial(store, trial);
  const record = store.ladders.list(trial).find((one) => one.ladder === ladder);
  if (!record) throw notFound(`ladder ${ladder}`);
  return viewOf(store, trial, record);
}

function viewOf(store: Store, trial: string, record: LadderRecord): LadderView {
  const { ladder, component, concentrations, at, away } = record;
  const answers = store.ladders.answers(trial, ladder);
  const trays = store.ladders.trays(trial, ladder).map(({ assessor, threes }): LadderTray => {
    const named: (string | null)[] = threes.map(() => null);
    for (const answer of answers) if (answer.assessor === assessor) named[answer.rung - 1] = answer.code;
    return { taster: assessor, threes, named };
  });
  return { ladder, component, concentrations, trays, drawn: at, away };
}
