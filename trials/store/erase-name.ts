import type Database from 'better-sqlite3';
import { APPEND_ONLY, GUARDS } from './migrations.ts';

/** Every column of text in which an assessor's name may stand whole or inside a document. */
const NAMED = ['seats', 'cups', 'consents', 'answers'] as const;

/**
 * Puts one name in place of another throughout a trial, stored inputs and acts included, then rewrites the file so
 * that the old name is nowhere in it. This is the only change that append-only tables ever see: their guards are
 * lifted inside the same transaction and stand again when it ends.
 */
export function eraseName(
  db: Database.Database,
  { trial, from, to }: { trial: string; from: string; to: string },
): void {
  db.pragma('foreign_keys = OFF');
  try {
    db.transaction(() => {
      liftGuards(db);
      for (const table of NAMED)
        db.prepare(`UPDATE ${table} SET assessor = ? WHERE trial = ? AND assessor = ?`).run(to, trial, from);
      renameInDocuments(db, trial, (value) => renamed(value, from, to));
      renameInActs(db, trial, from, to);
      db.exec(GUARDS);
      if ((db.pragma('foreign_key_check') as unknown[]).length > 0) throw new Error('a seat lost its cups');
    }).immediate();
  } finally {
    db.pragma('foreign_keys = ON');
  }
  db.exec('VACUUM');
  db.pragma('wal_checkpoint(TRUNCATE)');
}

function liftGuards(db: Database.Database): void {
  for (const table of APPEND_ONLY)
    for (const change of ['update', 'delete']) db.exec(`DROP TRIGGER ${table}_no_${change}`);
}

function renameInDocuments(db: Database.Database, trial: string, rename: (value: unknown) => unknown): void {
  const rows = db
    .prepare<[string], { reading: string; input: string; result: string }>(
      'SELECT reading, input, result FROM readings WHERE trial = ?',
    )
    .all(trial);
  const update = db.prepare('UPDATE readings SET input = ?, result = ? WHERE trial = ? AND reading = ?');
  for (const { reading, input, result } of rows) {
    const [newInput, newResult] = [input, result].map((text) => JSON.stringify(rename(JSON.parse(text))));
    if (newInput !== input || newResult !== result) update.run(newInput, newResult, trial, reading);
  }
}

/** Names stand between quotation marks in acts, so that a name inside a longer word is left alone. */
function renameInActs(db: Database.Database, trial: string, from: string, to: string): void {
  db.prepare(`UPDATE acts SET detail = replace(detail, ?, ?) WHERE trial = ?`).run(
    JSON.stringify(from),
    JSON.stringify(to),
    trial,
  );
  db.prepare('UPDATE acts SET who = ? WHERE trial = ? AND who = ?').run(to, trial, from);
}

/** A document with every text (also keys) that is exactly the name, or holds it in quotation marks, changed. */
function renamed(value: unknown, from: string, to: string): unknown {
  if (typeof value === 'string')
    return value === from ? to : value.replaceAll(JSON.stringify(from), JSON.stringify(to));
  if (Array.isArray(value)) return value.map((entry) => renamed(entry, from, to));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([key, entry]) => [key === from ? to : key, renamed(entry, from, to)]),
  );
}
