import type Database from 'better-sqlite3';
import type { ActRecord } from './records.ts';

/** Who did what when; acts of no trial (copies, passcodes) have none. */
export function actRepository(db: Database.Database) {
  const add = db.prepare('INSERT INTO acts (trial, at, who, act, detail) VALUES (?, ?, ?, ?, ?)');
  const list = db.prepare<[string], ActRecord>(
    'SELECT at, who, act, detail FROM acts WHERE trial = ? ORDER BY id',
  );
  return {
    add: (trial: string | null, { at, who, act, detail }: ActRecord): void => {
      add.run(trial, at, who, act, detail);
    },
    list: (trial: string): ActRecord[] => list.all(trial),
  };
}
