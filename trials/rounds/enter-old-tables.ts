import { REFERENCE, WARMUP } from '../../engine/panel/observations.ts';
import type { Mapped } from '../files/old/brief-of-columns.ts';
import { type OldRead, placeOf, readOldTables } from '../files/old/read-old-tables.ts';
import type { Brief } from '../schema/brief.ts';
import { FaultList } from '../schema/faults.ts';
import type { LookedTable, OldLook, OldTables } from '../schema/old-tables.ts';
import { takesWhole } from '../schema/scale-form.ts';
import type { Fault } from '../schema/shapes.ts';
import type { Store } from '../store/store.ts';
import type { Context } from './context.ts';
import { createTrial } from './create-trial.ts';
import { findTrial } from './find.ts';
import { type OldRound, storeOldRound } from './old-round.ts';
import { conflict, Refusal } from './refusal.ts';

/** Rows that are shown before they are stored; those at fault are shown wherever they stand. */
const SHOWN_ROWS = 6;
/** A code has three digits, so a taster cannot have more cups at one sitting. */
const MOST_CUPS = 900;

/** What old files hold and what is wrong with them, by line and column. Nothing is stored. */
export function lookAtOldTables(context: Context, given: OldTables): OldLook {
  const { read, round } = prepared(context.store, given);
  return {
    mixes: looked(read.mixes, read.faults),
    scores: looked(read.scores, read.faults),
    faults: read.faults,
    warnings: read.warnings,
    brief: read.brief,
    found: round === null || read.data === null ? null : foundIn(round),
  };
}

/**
 * Stores old weighings and scores as a round that has been tasted: bottles as weighed, one sitting for each session,
 * its key open, all marked as entered from old files. All of it in one transaction, or nothing.
 * @throws Refusal `bad-input` with every fault by line and column; `conflict` for the invented demo
 */
export function enterOldTables(context: Context, given: OldTables): { trial: string; round: number } {
  const { store } = context;
  return store.write(() => {
    const { read, round } = prepared(store, given);
    if (round === null || read.brief === null)
      throw new Refusal('bad-input', read.faults[0]?.message ?? 'these files cannot be used', read.faults);
    const trial = given.trial ?? createTrial(context, read.brief).trial;
    const files = [given.mixes.name, given.scores.name];
    return { trial, round: storeOldRound(context, trial, round, files) };
  });
}

interface Prepared {
  read: OldRead;
  /** What would be stored; null while something is wrong. */
  round: OldRound | null;
}

function prepared(store: Store, given: OldTables): Prepared {
  const found = given.trial === null ? null : findTrial(store, given.trial);
  if (found?.demo) throw conflict('the demo is invented: bring old data into a trial of your own');
  const read = readOldTables(given, found?.latest.brief ?? null);
  if (read.data === null || read.brief === null) return { read, round: null };
  const faults = [...clashes(store, given, read), ...unfit(read, read.brief), ...strangers(given, read)];
  if (faults.length > 0) return { read: { ...read, faults, data: null }, round: null };
  return { read, round: roundOf(given, read.data, read.scores!) };
}

/** The name that a mix, bottle or session of the files is stored under. */
function named(given: OldTables, name: string): string {
  return name === REFERENCE || name === WARMUP ? name : given.before + name;
}

function roundOf(given: OldTables, data: NonNullable<OldRead['data']>, { columns }: Mapped): OldRound {
  return {
    mixes: data.mixes.map(({ mix, blend, grams, shares, settings, line }) => ({
      mix: named(given, mix),
      blend: named(given, blend),
      grams,
      shares,
      settings,
      line,
    })),
    servings: data.servings.map((serving) => ({
      ...serving,
      mix: named(given, serving.mix),
      session: named(given, serving.session ?? 'Old scores'),
    })),
    places: columns.some(({ as }) => as === 'position') && placesAreClear(data.servings),
    knowing: given.knowing,
  };
}

/** Whether every cup says its place, and none of a taster's says another's. */
function placesAreClear(servings: NonNullable<OldRead['data']>['servings']): boolean {
  const seen = new Set<string>();
  return servings.every(({ assessor, session, position }) => {
    const key = JSON.stringify([assessor, session, position]);
    if (position === null || seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

/** Names that the trial has already. */
function clashes(store: Store, given: OldTables, { data, mixes, scores }: OldRead): Fault[] {
  const faults = new FaultList();
  if (given.trial === null) return [];
  const trial = given.trial;
  const rounds = store.rounds.list(trial).flatMap(({ round }) => store.rounds.mixes(trial, round));
  const labels = new Set(store.sittings.list(trial).map(({ label }) => label));
  const advice = 'a name that the trial does not have: put a word before all names';
  for (const { mix, blend, line } of data!.mixes) {
    if (rounds.some((one) => one.mix === named(given, mix)))
      faults.add(placeOf(mixes!, line, 'mix'), mix, advice);
    else if (rounds.some((one) => one.blend === named(given, blend)))
      faults.add(placeOf(mixes!, line, blend === mix ? 'mix' : 'blend'), blend, advice);
  }
  const told = new Set<string>();
  for (const { session, line } of data!.servings) {
    const label = named(given, session ?? 'Old scores');
    if (!labels.has(label) || told.has(label)) continue;
    told.add(label);
    faults.add(placeOf(scores!, line, 'session'), label, advice);
  }
  return faults.list();
}

/** Settings outside the brief's range, parts of a point where points are asked for, too many cups. */
function unfit({ data, mixes, scores }: OldRead, brief: Brief): Fault[] {
  const faults = new FaultList();
  for (const { settings, line } of data!.mixes)
    brief.settings.forEach(({ id, low, high }, k) => {
      if (settings[k]! < low || settings[k]! > high)
        faults.add(placeOf(mixes!, line, id), settings[k], `${low} to ${high}, or a brief that allows more`);
    });
  const cups = new Map<string, number>();
  for (const { assessor, session, scores: marks, line } of data!.servings) {
    brief.attributes.forEach((attribute, k) => {
      const mark = marks[k] ?? null;
      if (mark !== null && takesWhole(attribute) && !Number.isInteger(mark))
        faults.add(
          placeOf(scores!, line, attribute.id),
          mark,
          'a whole number, as the brief asks for points',
        );
    });
    const seat = JSON.stringify([assessor, session]);
    cups.set(seat, (cups.get(seat) ?? 0) + 1);
    if (cups.get(seat) === MOST_CUPS + 1)
      faults.add(
        placeOf(scores!, line, 'assessor'),
        assessor,
        `at most ${MOST_CUPS} cups a taster and session`,
      );
  }
  return faults.list();
}

function strangers(given: OldTables, { data }: OldRead): Fault[] {
  const faults = new FaultList();
  const known = new Set(data!.servings.map(({ assessor }) => assessor));
  for (const name of given.knowing)
    if (!known.has(name)) faults.add('knowing', name, `one of the tasters (${[...known].join(', ')})`);
  const long = [
    ...data!.mixes.flatMap(({ mix, blend }) => [mix, blend]),
    ...data!.servings.map((s) => s.session ?? ''),
  ];
  const tooLong = long.find((name) => [...named(given, name)].length > 80);
  if (tooLong !== undefined)
    faults.add('before', given.before, `a shorter word: with ${tooLong} it is over 80 characters`);
  return faults.list();
}

function foundIn({ mixes, servings }: OldRound): NonNullable<OldLook['found']> {
  const marks = servings.flatMap(({ scores }) => scores);
  const answers = marks.filter((mark) => mark !== null).length;
  return {
    mixes: mixes.length,
    bottles: new Set(mixes.map(({ blend }) => blend)).size,
    assessors: [...new Set(servings.map(({ assessor }) => assessor))],
    sessions: [...new Set(servings.map(({ session }) => session))],
    cups: servings.length,
    answers,
    missing: marks.length - answers,
  };
}

function looked(file: Mapped | null, faults: readonly Fault[]): LookedTable {
  if (file === null) return { columns: [], rows: [], count: 0 };
  const { table, columns } = file;
  const wrong = new Set(
    faults
      .filter(({ where }) => where.startsWith(`${table.file}, line `))
      .map(({ where }) => Number.parseInt(where.slice(`${table.file}, line `.length), 10)),
  );
  const rows = table.rows.filter(({ line }, index) => index < SHOWN_ROWS || wrong.has(line));
  return {
    columns: columns.map((column, index) => ({ ...column, heading: table.header[index]! })),
    rows: rows.map(({ line, cells }) => ({ line, cells: [...cells] })),
    count: table.rows.length,
  };
}
