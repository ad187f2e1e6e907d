import type Database from 'better-sqlite3';
import { APPEND_ONLY, GUARDS } from './migrations.ts';

/** Tables whose rows belong to an assessor. */
const OWNED = ['seats', 'cups', 'consents', 'answers'] as const;
/** Columns of free text in which somebody may have written the name. */
const WRITTEN: readonly [table: string, column: string][] = [
  ['acts', 'who'],
  ['acts', 'act'],
  ['acts', 'detail'],
  ['sittings', 'key_why'],
  ['weighings', 'note'],
  ['step_marks', 'note'],
];
/** Fields of stored documents that name a mix or a column, never a person. */
const OF_MIXES = new Set(['mix', 'blend', 'repeats', 'a', 'b', 'id', 'component', 'term']);

interface Erasure {
  trial: string;
  from: string;
  to: string;
}

/**
 * Puts one name in place of another throughout a trial, stored inputs and acts included, then rewrites the file so
 * that the old name is nowhere in it. This is the only change that append-only tables ever see: their guards are
 * lifted inside the same transaction and stand again when it ends.
 */
export function eraseName(db: Database.Database, { trial, from, to }: Erasure): void {
  const erase = inSentences(from, to);
  db.function(
    'erase_name',
    (text: unknown) => (typeof text === 'string' ? erase(text) : text) as string | null,
  );
  db.pragma('foreign_keys = OFF');
  try {
    db.transaction(() => {
      liftGuards(db);
      for (const table of OWNED)
        db.prepare(`UPDATE ${table} SET assessor = ? WHERE trial = ? AND assessor = ?`).run(to, trial, from);
      for (const [table, column] of WRITTEN)
        db.prepare(`UPDATE ${table} SET ${column} = erase_name(${column}) WHERE trial = ?`).run(trial);
      eraseInDocuments(db, trial, (value) => erasedIn(value, { from, to, erase }));
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

/** The name as a word of its own: `Ann` is left alone in `Annual`. */
function inSentences(from: string, to: string): (text: string) => string {
  const literal = from.replace(/[\\^$.*+?()[\]{}|]/g, '\\$&');
  const word = new RegExp(`(?<![\\p{L}\\p{N}_])${literal}(?![\\p{L}\\p{N}_])`, 'gu');
  return (text) => text.replace(word, () => to);
}

function eraseInDocuments(db: Database.Database, trial: string, erased: (value: unknown) => unknown): void {
  const rows = db
    .prepare<[string], { reading: string; input: string; result: string }>(
      'SELECT reading, input, result FROM readings WHERE trial = ?',
    )
    .all(trial);
  const update = db.prepare('UPDATE readings SET input = ?, result = ? WHERE trial = ? AND reading = ?');
  for (const { reading, input, result } of rows) {
    const [newInput, newResult] = [input, result].map((text) => JSON.stringify(erased(JSON.parse(text))));
    if (newInput !== input || newResult !== result) update.run(newInput, newResult, trial, reading);
  }
}

interface Erasing {
  from: string;
  to: string;
  erase: (text: string) => string;
}

/** A document with the name gone from its texts and keys; fields that name mixes stay as they are. */
function erasedIn(value: unknown, erasing: Erasing, field = ''): unknown {
  if (typeof value === 'string') return OF_MIXES.has(field) ? value : erasing.erase(value);
  if (Array.isArray(value)) return value.map((entry) => erasedIn(entry, erasing, field));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([key, entry]) => [
      key === erasing.from ? erasing.to : key,
      erasedIn(entry, erasing, key),
    ]),
  );
}
