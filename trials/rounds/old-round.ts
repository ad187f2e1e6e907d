import type { Serving } from '../../engine/panel/observations.ts';
import type { MixRow } from '../files/read-mixes.ts';
import type { Brief } from '../schema/brief.ts';
import type { MixRecord, Question, SeatKey } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import { type Context, record, timeOf } from './context.ts';
import { findTrial } from './find.ts';
import { refuseBadMixes } from './round-mixes.ts';
import { messageId } from './take-answers.ts';
import { counted, listed } from './words.ts';

/** A round that was weighed and tasted before the workbench knew of it. */
export interface OldRound {
  mixes: readonly Omit<MixRow, 'round'>[];
  servings: readonly (Omit<Serving, 'session'> & { session: string; line: number })[];
  /** The places of the cups are known. */
  places: boolean;
  knowing: readonly string[];
}

const WHY = 'entered from old files';
/** Old files are one more phone, with a count of its own. */
const FILES = '1'.repeat(32);

/** Stores the round; the caller's transaction holds all of it. Returns its number. */
export function storeOldRound(
  context: Context,
  trial: string,
  old: OldRound,
  files: readonly string[],
): number {
  const { store } = context;
  const { latest } = findTrial(store, trial);
  const { brief } = latest;
  const at = timeOf(context);
  const mixes = old.mixes.map((mix) => mixRecord(brief, mix));
  refuseBadMixes(store, trial, brief, mixes);
  const round = (store.rounds.list(trial).at(-1)?.round ?? 0) + 1;
  store.rounds.add(trial, { round, briefVersion: latest.version, reading: null, restHours: 0, at });
  store.rounds.addMixes(trial, round, mixes);
  const bottles = new Map(
    old.mixes.map((mix, index) => [mix.blend, { mix, planned: mixes[index]!.planned }]),
  );
  for (const [blend, { mix, planned }] of bottles)
    store.rounds.addWeighing(trial, {
      round,
      blend,
      at,
      grams: planned.grams,
      note: `${WHY}: ${files[0]}, line ${mix.line}`,
    });
  for (const step of ['rest', 'dose', 'pour'] as const)
    store.rounds.addMark(trial, { round, step, done: true, note: WHY, at });
  const sessions = [...new Set(old.servings.map(({ session }) => session))];
  for (const label of sessions) addSitting(context, trial, { old, round, label, brief });
  const what = `round ${round}: ${counted(mixes.length, 'mix', 'mixes')}, ${counted(old.servings.length, 'cup')} of ${counted(sessions.length, 'session')}`;
  record(context, trial, WHY, `${what}, from ${listed(files)}`);
  return round;
}

function mixRecord(
  brief: Brief,
  { mix, blend, grams, shares, settings }: OldRound['mixes'][number],
): MixRecord {
  const byId = (values: readonly number[], list: readonly { id: string }[]) =>
    Object.fromEntries(list.map(({ id }, k) => [id, values[k]!]));
  return {
    mix,
    blend,
    repeats: null,
    again: false,
    planned: {
      ratios: byId(shares, brief.components),
      grams: byId(grams, brief.components),
      settings: byId(settings, brief.settings),
    },
    why: 'Weighed before this trial began; what was planned is not known.',
  };
}

interface Session {
  old: OldRound;
  round: number;
  label: string;
  brief: Brief;
}

function addSitting(context: Context, trial: string, { old, round, label, brief }: Session): void {
  const { store } = context;
  const at = timeOf(context);
  const sitting = `s${store.sittings.list(trial).length + 1}`;
  const servings = old.servings.filter(({ session }) => session === label);
  const asked = brief.attributes.filter((_, k) =>
    servings.some(({ scores }) => (scores[k] ?? null) !== null),
  );
  store.sittings.add(trial, {
    ...{ sitting, round, label, state: 'closed', key: 'opened', seed: 0 },
    questions: asked.map(({ id, name, scale, form, words }): Question => ({ id, name, scale, form, words })),
    rests: { betweenCups: 0, afterFour: 0 },
    manner: { old: { places: old.places } },
    ...{ drawn: at, opened: at, closed: at, keyOpened: at, keyWhy: WHY },
  });
  const met = codesMet(store, trial);
  const assessors = [...new Set(servings.map(({ assessor }) => assessor))];
  for (const [place, assessor] of assessors.entries()) {
    const own = servings.filter((serving) => serving.assessor === assessor);
    const seat = { trial, sitting, assessor };
    const knowing = old.knowing.includes(assessor);
    store.sittings.addSeat(seat, { place, knowing, position: own.length, heard: null, absent: false }, null);
    const codes = freeCodes(met.get(assessor) ?? new Set(), own.length);
    for (const [index, serving] of own.entries())
      addCup(store, seat, { serving, index, code: codes[index]!, places: old.places, brief, at });
  }
}

interface Cup {
  serving: OldRound['servings'][number];
  index: number;
  code: string;
  places: boolean;
  brief: Brief;
  at: string;
}

function addCup(store: Store, seat: SeatKey, { serving, index, code, places, brief, at }: Cup): void {
  const position = places ? serving.position! : index + 1;
  const { assessor, mix } = serving;
  store.sittings.addCup(seat, {
    assessor,
    position,
    code,
    mix,
    replicate: serving.replicate ?? '1',
    part: null,
  });
  brief.attributes.forEach(({ id }, k) => {
    const value = serving.scores[k] ?? null;
    if (value === null) return;
    const message = messageId([seat.trial, seat.sitting, assessor, code, id]);
    const answer = {
      message,
      code,
      question: id,
      value,
      phone: FILES,
      count: index,
      late: false,
      received: at,
    };
    store.answers.add(seat, answer);
  });
}

function codesMet(store: Store, trial: string): Map<string, Set<string>> {
  const met = new Map<string, Set<string>>();
  for (const { assessor, code } of store.sittings.codesMet(trial))
    met.set(assessor, (met.get(assessor) ?? new Set()).add(code));
  return met;
}

/** Numbers for cups that never bore one: those that the taster has not met first. */
function freeCodes(met: ReadonlySet<string>, count: number): string[] {
  const all = Array.from({ length: 900 }, (_, k) => String(100 + k));
  return [...all.filter((code) => !met.has(code)), ...all.filter((code) => met.has(code))].slice(0, count);
}
