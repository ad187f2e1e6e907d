import { existsSync, readFileSync, statSync } from 'node:fs';
import Database from 'better-sqlite3';
import { StoreError } from './store-error.ts';

/** How long a statement waits for a lock, in milliseconds. */
const PATIENCE = 5000;

/**
 * A connection that loses nothing it has acknowledged: write-ahead log, synchronised to disk at every commit,
 * foreign keys enforced, deleted content overwritten.
 * @param maximumPages the file may not grow beyond this (for rehearsing a full disk)
 */
export function connect(file: string, maximumPages?: number): Database.Database {
  const db = new Database(file, { timeout: PATIENCE });
  db.pragma('journal_mode = WAL');
  db.pragma('synchronous = FULL');
  db.pragma('foreign_keys = ON');
  db.pragma('secure_delete = ON');
  db.pragma('trusted_schema = OFF');
  if (maximumPages !== undefined) db.pragma(`max_page_count = ${maximumPages}`);
  return db;
}

/**
 * A connection that changes nothing. On a disk that cannot be written, where no log may lie beside the file, a copy in
 * memory is read instead.
 * @throws StoreError `read-only` where answers wait in a log there that cannot be read
 */
export function connectToRead(file: string): Database.Database {
  const db = new Database(file, { timeout: PATIENCE, readonly: true, fileMustExist: true });
  try {
    db.pragma('trusted_schema = OFF');
    db.pragma('user_version');
    return db;
  } catch (thrown) {
    db.close();
    if (!(thrown instanceof Database.SqliteError) || thrown.code !== 'SQLITE_CANTOPEN') throw thrown;
    return inMemory(file);
  }
}

/** Bytes 18 and 19 of a data file say that a log goes with it; a copy in memory has none. */
function inMemory(file: string): Database.Database {
  const log = `${file}-wal`;
  if (existsSync(log) && statSync(log).size > 0)
    throw new StoreError(
      'read-only',
      `${file} cannot be read where it lies, since its disk cannot be written: copy the folder elsewhere`,
    );
  const bytes = readFileSync(file);
  bytes.fill(1, 18, 20);
  const db = new Database(bytes, { readonly: true });
  db.pragma('trusted_schema = OFF');
  return db;
}
