import type Database from 'better-sqlite3';
import type { ReadingRecord } from './records.ts';

type Kind = ReadingRecord['kind'];

interface ReadingRow extends Omit<ReadingRecord, 'input' | 'result'> {
  input: string;
  result: string;
}

/** A stored result without its documents. */
export type ReadingHead = Pick<ReadingRecord, 'reading' | 'kind' | 'round' | 'at'>;

/** Results with what they were computed from; they are never changed. */
export function readingRepository(db: Database.Database) {
  const columns = 'reading, kind, round, at, seed, version, input, result';
  const add = db.prepare(`INSERT INTO readings (trial, ${columns}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`);
  const find = db.prepare<[string, string], ReadingRow>(
    `SELECT ${columns} FROM readings WHERE trial = ? AND reading = ?`,
  );
  const heads = db.prepare<[string], ReadingHead>(
    `SELECT reading, kind, round, at FROM readings
     WHERE trial = ? AND json_extract(input, '$.whatIf') IS NULL ORDER BY rowid`,
  );
  const count = db.prepare<[string, Kind], { n: number }>(
    'SELECT count(*) AS n FROM readings WHERE trial = ? AND kind = ?',
  );
  return {
    add: (trial: string, r: ReadingRecord): void => {
      const { reading, kind, round, at, seed, version } = r;
      const documents = [JSON.stringify(r.input), JSON.stringify(r.result)];
      add.run(trial, reading, kind, round, at, seed, version, ...documents);
    },
    find: (trial: string, reading: string): ReadingRecord | null => {
      const row = find.get(trial, reading);
      return row ? { ...row, input: JSON.parse(row.input), result: JSON.parse(row.result) } : null;
    },
    /** All readings of a trial as its brief stood, oldest first: what was only tried out is left out. */
    heads: (trial: string): ReadingHead[] => heads.all(trial),
    count: (trial: string, kind: Kind): number => count.get(trial, kind)!.n,
  };
}
