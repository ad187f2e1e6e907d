import type Database from 'better-sqlite3';
import { StoreError } from './store-error.ts';

/** A whole trial as one document: the rows of each table in order. Links and their tokens stay behind. */
export interface TrialDocument {
  format: 'trial/1';
  tables: Record<TableName, Record<string, string | number | null>[]>;
}

/** Tables of a trial, in an order in which each finds what it refers to; columns that stay behind. */
const TABLES = {
  trials: { order: 'trial', without: [] },
  briefs: { order: 'version', without: [] },
  readings: { order: 'rowid', without: [] },
  rounds: { order: 'round', without: [] },
  mixes: { order: 'round, place', without: [] },
  weighings: { order: 'id', without: ['id'] },
  step_marks: { order: 'id', without: ['id'] },
  sittings: { order: 'rowid', without: [] },
  seats: { order: 'sitting, place', without: ['token_hash'] },
  cups: { order: 'sitting, assessor, position', without: [] },
  consents: { order: 'id', without: ['id'] },
  answers: { order: 'sequence', without: ['sequence'] },
  acts: { order: 'id', without: ['id'] },
  cards: { order: 'version', without: [] },
  ladders: { order: 'ladder', without: [] },
  ladder_trays: { order: 'ladder, place', without: [] },
  ladder_answers: { order: 'id', without: ['id'] },
} as const;

type TableName = keyof typeof TABLES;
export const TRIAL_TABLES = Object.keys(TABLES) as TableName[];
/** Tables that came later: documents of an earlier version lack them. */
export const LATER_TABLES: readonly TableName[] = ['cards', 'ladders', 'ladder_trays', 'ladder_answers'];

/** Whole trials out and in. */
export function documentsOf(db: Database.Database) {
  const columns = new Map(TRIAL_TABLES.map((table) => [table, columnsOf(db, table)]));
  return {
    /** The columns of each table of a document. */
    columns,
    write: (trial: string): TrialDocument => {
      const tables = Object.fromEntries(
        TRIAL_TABLES.map((table) => {
          const list = columns.get(table)!.join(', ');
          const sql = `SELECT ${list} FROM ${table} WHERE trial = ? ORDER BY ${TABLES[table].order}`;
          return [table, db.prepare(sql).all(trial)];
        }),
      ) as TrialDocument['tables'];
      return { format: 'trial/1', tables };
    },
    /** Adds every row as it stands, under the trial's id `as`. Rules of the tables are checked by the tables. */
    read: (document: TrialDocument, as: string): void => {
      for (const table of TRIAL_TABLES) {
        const list = columns.get(table)!;
        const add = db.prepare(
          `INSERT INTO ${table} (${list.join(', ')}) VALUES (${list.map(() => '?').join(', ')})`,
        );
        // Documents of an earlier version lack tables that came later.
        for (const row of document.tables[table] ?? [])
          add.run(list.map((column) => (column === 'trial' ? as : (row[column] ?? null))));
      }
    },
  };
}

function columnsOf(db: Database.Database, table: TableName): string[] {
  const without: readonly string[] = TABLES[table].without;
  const all = db.pragma(`table_info(${table})`) as { name: string }[];
  if (all.length === 0) throw new StoreError('damaged', `the data lacks its table ${table}`);
  return all.map(({ name }) => name).filter((name) => !without.includes(name));
}
