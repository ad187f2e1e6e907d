import type { RoundMix, RoundView } from '../schema/api.ts';
import type { Brief } from '../schema/brief.ts';
import type { MixRecord, RoundRecord, WeighingRecord } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import type { Context } from './context.ts';
import { doseOf } from './dose.ts';
import { findRound, findTrial } from './find.ts';
import { sittingSummary } from './sitting-summary.ts';
import { stepsOf } from './steps.ts';
import { lotsByBlend } from './take-from-lots.ts';
import { blendsBefore, bottlesOf, latestWeighings } from './weighed.ts';

/** One round as the pages show it. */
export function roundView(context: Context, trial: string, round: number): RoundView {
  return viewOf(context, trial, findRound(context.store, trial, round));
}

/** All rounds of a trial. */
export function roundViews(context: Context, trial: string): RoundView[] {
  return context.store.rounds.list(trial).map((record) => viewOf(context, trial, record));
}

function viewOf(context: Context, trial: string, record: RoundRecord): RoundView {
  const { store } = context;
  const { round, restHours, reading } = record;
  const mixes = store.rounds.mixes(trial, round);
  const weighings = latestWeighings(store, trial);
  const sittings = store.sittings
    .list(trial)
    .filter((sitting) => sitting.round === round)
    .map((sitting) => sittingSummary(store, trial, sitting));
  const bottles = bottlesOf(mixes, blendsBefore(store, trial, round));
  const read = isRead(store, trial, record);
  const steps = stepsOf({
    mixes: mixes.length,
    bottles,
    weighedBottles: new Set(weighings.keys()),
    youngestHours: youngestHours(context, bottles, weighings),
    restHours,
    marks: marksOf(store, trial, round),
    doses: dosesOf(findTrial(store, trial).latest.brief, mixes),
    sittings,
    read,
  });
  const lots = lotsByBlend(store, trial);
  const views = mixes.map((mix) => mixView(mix, weighings.get(mix.blend) ?? null, lots.get(mix.blend) ?? {}));
  return { round, state: read ? 'read' : 'open', steps, mixes: views, sittings, reading, restHours };
}

function mixView(record: MixRecord, weighing: WeighingRecord | null, lots: RoundMix['lots']): RoundMix {
  const { mix, blend, repeats, again, planned, why } = record;
  return {
    mix,
    blend,
    repeats,
    again,
    planned,
    weighed: weighing?.grams ?? null,
    weighedAt: weighing?.at ?? null,
    lots,
    why,
    note: weighing?.note ?? '',
  };
}

/**
 * A round is read when a reading was stored after the last key of its scores was opened; a test between two drinks is
 * read from its answers as they stand, so that a round of nothing else is read once its keys are open.
 */
function isRead(store: Store, trial: string, { round }: RoundRecord): boolean {
  const sittings = store.sittings.list(trial).filter((sitting) => sitting.round === round);
  const opened = sittings.map(({ keyOpened }) => keyOpened).filter((at) => at !== null);
  if (sittings.length === 0 || opened.length < sittings.length) return false;
  const scored = sittings
    .filter(({ manner }) => manner.test === undefined)
    .map(({ keyOpened }) => keyOpened!);
  if (scored.length === 0) return true;
  const last = scored.sort().at(-1)!;
  return store.readings.heads(trial).some(({ kind, at }) => kind === 'read' && at >= last);
}

function youngestHours(
  context: Context,
  bottles: readonly string[],
  weighings: ReadonlyMap<string, WeighingRecord>,
): number | null {
  const times = bottles.map((bottle) => weighings.get(bottle)?.at);
  if (times.length === 0 || times.includes(undefined)) return null;
  const youngest = Math.max(...times.map((at) => Date.parse(at!)));
  return Math.max(0, (context.now().getTime() - youngest) / 3_600_000);
}

function marksOf(store: Store, trial: string, round: number): Record<'rest' | 'dose' | 'pour', boolean> {
  const marks = { rest: false, dose: false, pour: false };
  for (const mark of store.rounds.marks(trial)) if (mark.round === round) marks[mark.step] = mark.done;
  return marks;
}

function dosesOf(brief: Brief, mixes: readonly MixRecord[]): [number, number] | null {
  const doses = mixes.map((mix) => doseOf(brief, mix)).filter((dose) => dose !== null);
  return doses.length === 0 ? null : [Math.min(...doses), Math.max(...doses)];
}
