import { join } from 'node:path';
import Database from 'better-sqlite3';
import { StoreError } from './store-error.ts';

/** A claim on a data folder. The operating system lifts it when the process ends, however it ends. */
export interface FolderLock {
  release(): void;
}

/**
 * Claims a data folder for this process: an exclusive lock on a small file beside the data, held as long as the
 * connection is open, so that a killed process leaves nothing behind that must be cleared away.
 * @throws StoreError `in-use` where another process (or this one) holds it
 */
export function lockFolder(folder: string): FolderLock {
  const db = new Database(join(folder, 'in-use.lock'), { timeout: 0 });
  try {
    db.pragma('journal_mode = DELETE');
    db.exec('BEGIN EXCLUSIVE');
  } catch (thrown) {
    db.close();
    throw new StoreError(
      'in-use',
      `another Dropwise has ${folder} open: close it first, or choose another folder with --data`,
      thrown,
    );
  }
  return { release: () => db.close() };
}
