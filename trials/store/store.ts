import { existsSync, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type Database from 'better-sqlite3';
import { accessRepository } from './access-repository.ts';
import { actRepository } from './act-repository.ts';
import { answerRepository } from './answer-repository.ts';
import { cardRepository } from './card-repository.ts';
import { connect, connectToRead } from './connection.ts';
import { copiesOf } from './copies.ts';
import { eraseName } from './erase-name.ts';
import { type FolderLock, lockFolder } from './folder-lock.ts';
import { inspectFile } from './inspect-file.ts';
import { ladderRepository } from './ladder-repository.ts';
import { migrate } from './migrate.ts';
import { MIGRATIONS } from './migrations.ts';
import { readingRepository } from './reading-repository.ts';
import { roundRepository } from './round-repository.ts';
import { shelfRepository } from './shelf-repository.ts';
import { sittingRepository } from './sitting-repository.ts';
import { asStoreError, StoreError } from './store-error.ts';
import { documentsOf } from './trial-document.ts';
import { trialRepository } from './trial-repository.ts';

/** The data file inside its folder. */
export const DATA_FILE = 'dropwise.sqlite';

export interface StoreOptions {
  /** The file may not grow beyond this many pages (for rehearsing a full disk). */
  maximumPages?: number;
  /** Other steps than the released ones (for rehearsing migrations). */
  migrations?: readonly string[];
}

/** All that is kept, on disk. The repositories are the only place with SQL. */
export type Store = ReturnType<typeof assemble>;

/**
 * Opens the data in a folder, making both if they are not there. An existing file is looked at first; where it must
 * be brought up to date a copy of it is kept beside it.
 * @throws StoreError `in-use` by another process, `newer`, `damaged`, `foreign`, `read-only`, `full`
 */
export function openStore(folder: string, options: StoreOptions = {}): Store {
  const migrations = options.migrations ?? MIGRATIONS;
  const file = join(folder, DATA_FILE);
  const lock = claim(folder);
  try {
    if (existsSync(file)) inspectFile(file, migrations.length);
    const db = connect(file, options.maximumPages);
    try {
      const copies = copiesOf(db, folder, migrations);
      migrate(db, migrations, copies.keepBeforeMigrating);
      return assemble(db, { file, folder, lock, copies });
    } catch (thrown) {
      db.close();
      throw thrown;
    }
  } catch (thrown) {
    lock.release();
    throw asStoreError(thrown) ?? thrown;
  }
}

/**
 * Opens the data of a folder for reading while another process may be writing it: nothing can be changed through it,
 * only read, copied and exported.
 * @throws StoreError `missing`, `older` (open it once to bring it up to date), `newer`, `damaged`, `foreign`
 */
export function openStoreToRead(folder: string): Store {
  const file = join(folder, DATA_FILE);
  if (!existsSync(file)) throw new StoreError('missing', `there is no data in ${folder}`);
  const version = inspectFile(file, MIGRATIONS.length);
  if (version < MIGRATIONS.length)
    throw new StoreError(
      'older',
      `${file} is of an earlier version: open the workbench once to bring it up to date`,
    );
  const db = connectToRead(file);
  const lock = { release: () => undefined };
  return assemble(db, { file, folder, lock, copies: copiesOf(db, folder, MIGRATIONS) });
}

function claim(folder: string): FolderLock {
  try {
    mkdirSync(folder, { recursive: true });
    return lockFolder(folder);
  } catch (thrown) {
    if (thrown instanceof StoreError) throw thrown;
    const words = `${folder} cannot be written: choose another folder with --data`;
    throw new StoreError('read-only', words, thrown);
  }
}

interface Parts {
  file: string;
  folder: string;
  lock: FolderLock;
  copies: ReturnType<typeof copiesOf>;
}

function assemble(db: Database.Database, { file, folder, lock, copies }: Parts) {
  return {
    file,
    folder,
    trials: trialRepository(db),
    rounds: roundRepository(db),
    sittings: sittingRepository(db),
    answers: answerRepository(db),
    readings: readingRepository(db),
    acts: actRepository(db),
    access: accessRepository(db),
    shelf: shelfRepository(db),
    cards: cardRepository(db),
    ladders: ladderRepository(db),
    documents: documentsOf(db),
    copies,
    eraseName: (trial: string, from: string, to: string): void => eraseName(db, { trial, from, to }),
    /** Runs a change as one transaction: all of it is on disk when this returns, or none of it. */
    write: <T>(change: () => T): T => {
      try {
        return db.transaction(change).immediate();
      } catch (thrown) {
        throw asStoreError(thrown) ?? thrown;
      }
    },
    /** What the database says of itself, for checks. */
    pragma: (name: string): unknown => db.pragma(name, { simple: true }),
    close: (): void => {
      if (!db.open) return;
      db.close();
      lock.release();
    },
  };
}
