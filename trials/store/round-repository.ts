import type Database from 'better-sqlite3';
import type { MixRecord, RoundRecord, StepMark, WeighingRecord } from './records.ts';

interface RoundRow {
  round: number;
  brief_version: number;
  reading: string | null;
  rest_hours: number;
  at: string;
}

interface MixRow {
  mix: string;
  blend: string;
  repeats: string | null;
  again: number;
  planned: string;
  why: string;
}

interface WeighingRow {
  round: number;
  blend: string;
  at: string;
  grams: string;
  note: string;
}

interface MarkRow {
  round: number;
  step: StepMark['step'];
  done: number;
  note: string;
  at: string;
}

/** Rounds, their mixes as planned, every weighing, every mark of a step. */
export function roundRepository(db: Database.Database) {
  const roundColumns = 'round, brief_version, reading, rest_hours, at';
  const addRound = db.prepare(`INSERT INTO rounds (trial, ${roundColumns}) VALUES (?, ?, ?, ?, ?, ?)`);
  const rounds = db.prepare<[string], RoundRow>(
    `SELECT ${roundColumns} FROM rounds WHERE trial = ? ORDER BY round`,
  );
  const mixColumns = 'mix, blend, repeats, again, planned, why';
  const addMix = db.prepare(
    `INSERT INTO mixes (trial, round, place, ${mixColumns}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  );
  const mixes = db.prepare<[string, number], MixRow>(
    `SELECT ${mixColumns} FROM mixes WHERE trial = ? AND round = ? ORDER BY place`,
  );
  const addWeighing = db.prepare(
    'INSERT INTO weighings (trial, round, blend, at, grams, note) VALUES (?, ?, ?, ?, ?, ?)',
  );
  const weighings = db.prepare<[string], WeighingRow>(
    'SELECT round, blend, at, grams, note FROM weighings WHERE trial = ? ORDER BY id',
  );
  const addMark = db.prepare(
    'INSERT INTO step_marks (trial, round, step, done, note, at) VALUES (?, ?, ?, ?, ?, ?)',
  );
  const marks = db.prepare<[string], MarkRow>(
    'SELECT round, step, done, note, at FROM step_marks WHERE trial = ? ORDER BY id',
  );
  return {
    add: (trial: string, r: RoundRecord): void => {
      addRound.run(trial, r.round, r.briefVersion, r.reading, r.restHours, r.at);
    },
    list: (trial: string): RoundRecord[] => rounds.all(trial).map(toRound),
    addMixes: (trial: string, round: number, list: readonly MixRecord[]): void => {
      list.forEach((m, place) => {
        const planned = JSON.stringify(m.planned);
        addMix.run(trial, round, place, m.mix, m.blend, m.repeats, m.again ? 1 : 0, planned, m.why);
      });
    },
    /** The mixes of a round in the order of its plan. */
    mixes: (trial: string, round: number): MixRecord[] => mixes.all(trial, round).map(toMix),
    addWeighing: (trial: string, w: WeighingRecord): void => {
      addWeighing.run(trial, w.round, w.blend, w.at, JSON.stringify(w.grams), w.note);
    },
    /** Every weighing of a trial, oldest first. */
    weighings: (trial: string): WeighingRecord[] => weighings.all(trial).map(toWeighing),
    addMark: (trial: string, m: StepMark): void => {
      addMark.run(trial, m.round, m.step, m.done ? 1 : 0, m.note, m.at);
    },
    marks: (trial: string): StepMark[] => marks.all(trial).map((row) => ({ ...row, done: row.done === 1 })),
  };
}

function toRound(row: RoundRow): RoundRecord {
  const { round, reading, at } = row;
  return { round, briefVersion: row.brief_version, reading, restHours: row.rest_hours, at };
}

function toMix(row: MixRow): MixRecord {
  return { ...row, again: row.again === 1, planned: JSON.parse(row.planned) as MixRecord['planned'] };
}

function toWeighing(row: WeighingRow): WeighingRecord {
  return { ...row, grams: JSON.parse(row.grams) as Record<string, number> };
}
