import type Database from 'better-sqlite3';
import type { Brief } from '../schema/brief.ts';
import type { BriefRecord, TrialRecord } from './records.ts';

interface TrialRow {
  trial: string;
  name: string;
  demo: number;
  made: string;
  changed: string;
}

interface BriefRow {
  version: number;
  at: string;
  brief: string;
  warnings: string;
}

/** Trials and the versions of their briefs. */
export function trialRepository(db: Database.Database) {
  const addTrial = db.prepare('INSERT INTO trials (trial, name, demo, made, changed) VALUES (?, ?, ?, ?, ?)');
  const touch = db.prepare('UPDATE trials SET changed = ? WHERE trial = ?');
  const rename = db.prepare('UPDATE trials SET name = ? WHERE trial = ?');
  const all = db.prepare<[], TrialRow>('SELECT * FROM trials ORDER BY changed DESC, trial');
  const one = db.prepare<[string], TrialRow>('SELECT * FROM trials WHERE trial = ?');
  const addBrief = db.prepare(
    'INSERT INTO briefs (trial, version, at, brief, warnings) VALUES (?, ?, ?, ?, ?)',
  );
  const latest = db.prepare<[string], BriefRow>(
    'SELECT version, at, brief, warnings FROM briefs WHERE trial = ? ORDER BY version DESC LIMIT 1',
  );
  const versions = db.prepare<[string], BriefRow>(
    'SELECT version, at, brief, warnings FROM briefs WHERE trial = ? ORDER BY version',
  );
  return {
    add: ({ trial, name, demo, made, changed }: TrialRecord): void => {
      addTrial.run(trial, name, demo ? 1 : 0, made, changed);
    },
    /** Notes when something in the trial last changed. */
    touch: (trial: string, at: string): void => {
      touch.run(at, trial);
    },
    rename: (trial: string, name: string): void => {
      rename.run(name, trial);
    },
    list: (): TrialRecord[] => all.all().map(toTrial),
    find: (trial: string): TrialRecord | null => mapped(one.get(trial), toTrial),
    addBrief: (trial: string, { version, at, brief, warnings }: BriefRecord): void => {
      addBrief.run(trial, version, at, JSON.stringify(brief), JSON.stringify(warnings));
    },
    latestBrief: (trial: string): BriefRecord | null => mapped(latest.get(trial), toBrief),
    briefVersions: (trial: string): BriefRecord[] => versions.all(trial).map(toBrief),
  };
}

function toTrial(row: TrialRow): TrialRecord {
  return { ...row, demo: row.demo === 1 };
}

function toBrief(row: BriefRow): BriefRecord {
  const brief = JSON.parse(row.brief) as Brief;
  return { version: row.version, at: row.at, brief, warnings: JSON.parse(row.warnings) as string[] };
}

function mapped<R, T>(row: R | undefined, map: (row: R) => T): T | null {
  return row === undefined ? null : map(row);
}
