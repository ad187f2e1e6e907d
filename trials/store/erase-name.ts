import type Database from 'better-sqlite3';
import type { Brief } from '../schema/brief.ts';
import { APPEND_ONLY, GUARDS } from './migrations.ts';

/** Tables whose rows belong to an assessor. */
const OWNED = ['seats', 'cups', 'consents', 'answers', 'ladder_trays', 'ladder_answers'] as const;
/** Columns of free text in which somebody may have written the name. */
const WRITTEN: readonly [table: string, column: string][] = [
  ['acts', 'who'],
  ['acts', 'act'],
  ['acts', 'detail'],
  ['sittings', 'key_why'],
  ['sittings', 'label'],
  ['mixes', 'why'],
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
      eraseInDocuments(db, trial, { from, to, erase, ids: idsOf(db, trial) });
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

/** Stored documents of a trial: what tells one row from the next, and the columns that hold them. */
const DOCUMENTS = [
  { table: 'readings', row: 'reading', columns: ['input', 'result'] },
  { table: 'briefs', row: 'version', columns: ['brief', 'warnings'] },
] as const;

function eraseInDocuments(db: Database.Database, trial: string, erasing: Erasing): void {
  for (const { table, row, columns } of DOCUMENTS)
    for (const column of columns) {
      const rows = db
        .prepare<[string], { row: string | number; text: string }>(
          `SELECT ${row} AS row, ${column} AS text FROM ${table} WHERE trial = ?`,
        )
        .all(trial);
      const update = db.prepare(`UPDATE ${table} SET ${column} = ? WHERE trial = ? AND ${row} = ?`);
      for (const { row: key, text } of rows) {
        const erased = JSON.stringify(erasedIn(JSON.parse(text), erasing));
        if (erased !== text) update.run(erased, trial, key);
      }
    }
}

/** Ids of components, settings and attributes: where one is a key of a document, no person is meant. */
function idsOf(db: Database.Database, trial: string): ReadonlySet<string> {
  const briefs = db
    .prepare<[string], { brief: string }>('SELECT brief FROM briefs WHERE trial = ?')
    .all(trial);
  const lists = briefs.flatMap(({ brief }) => {
    const { components, settings, attributes } = JSON.parse(brief) as Partial<Brief>;
    return [...(components ?? []), ...(settings ?? []), ...(attributes ?? [])];
  });
  return new Set(lists.map(({ id }) => id));
}

interface Erasing {
  from: string;
  to: string;
  erase: (text: string) => string;
  ids: ReadonlySet<string>;
}

/** A document with the name gone from its texts and keys; fields that name mixes stay as they are. */
function erasedIn(value: unknown, erasing: Erasing, field = ''): unknown {
  if (typeof value === 'string') return OF_MIXES.has(field) ? value : erasing.erase(value);
  if (Array.isArray(value)) return value.map((entry) => erasedIn(entry, erasing, field));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([key, entry]) => [
      key === erasing.from && !erasing.ids.has(key) ? erasing.to : key,
      erasedIn(entry, erasing, key),
    ]),
  );
}
