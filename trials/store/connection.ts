import Database from 'better-sqlite3';

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

/** A connection that changes nothing. */
export function connectToRead(file: string): Database.Database {
  const db = new Database(file, { timeout: PATIENCE, readonly: true, fileMustExist: true });
  db.pragma('trusted_schema = OFF');
  return db;
}
