import { closeSync, openSync, readSync, statSync } from 'node:fs';
import type Database from 'better-sqlite3';
import { connectToRead } from './connection.ts';
import { APPLICATION_ID } from './migrations.ts';
import { StoreError } from './store-error.ts';

const HEADER_BYTES = 100;
const MAGIC = 'SQLite format 3\0';

/**
 * Looks at a data file without touching it.
 * @param newest the version this program knows
 * @returns the version of the data in it
 * @throws StoreError `foreign` (not this program's), `newer`, `damaged`
 */
export function inspectFile(file: string, newest: number): number {
  refuseStrangers(file);
  const db = openToLook(file);
  try {
    const id = db.pragma('application_id', { simple: true });
    if (id !== APPLICATION_ID)
      throw new StoreError('foreign', `${file} is not a Dropwise data file; it was left as it is`);
    const version = Number(db.pragma('user_version', { simple: true }));
    if (version > newest)
      throw new StoreError(
        'newer',
        `${file} was written by a newer Dropwise (data version ${version}, this one knows ${newest}); it was left as it is`,
      );
    refuseDamage(db, file);
    return version;
  } catch (thrown) {
    throw thrown instanceof StoreError ? thrown : damaged(file, thrown);
  } finally {
    db.close();
  }
}

function refuseStrangers(file: string): void {
  if (statSync(file).size < HEADER_BYTES) throw damaged(file, undefined);
  const header = Buffer.alloc(HEADER_BYTES);
  const handle = openSync(file, 'r');
  try {
    readSync(handle, header, 0, HEADER_BYTES, 0);
  } finally {
    closeSync(handle);
  }
  if (header.toString('latin1', 0, MAGIC.length) !== MAGIC)
    throw new StoreError('foreign', `${file} is damaged or not a Dropwise data file; it was left as it is`);
}

function openToLook(file: string): Database.Database {
  try {
    return connectToRead(file);
  } catch (thrown) {
    throw thrown instanceof StoreError ? thrown : damaged(file, thrown);
  }
}

function refuseDamage(db: Database.Database, file: string): void {
  const found = db.pragma('quick_check(1)', { simple: true });
  if (found !== 'ok') throw damaged(file, new Error(String(found)));
}

function damaged(file: string, cause: unknown): StoreError {
  return new StoreError('damaged', `${file} is damaged; it was left as it is: restore a copy`, cause);
}
