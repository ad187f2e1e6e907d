import { copyFileSync, existsSync, mkdirSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { inspectFile } from './inspect-file.ts';
import { migrate, versionOf } from './migrate.ts';
import { StoreError } from './store-error.ts';

/** A copy of the data file. */
export interface Copy {
  name: string;
  at: string;
  bytes: number;
}

const NAME = /^[A-Za-z0-9][A-Za-z0-9._-]*\.sqlite$/;

/** Copies of the data: made while it is in use, listed, and put back. */
export function copiesOf(db: Database.Database, folder: string, migrations: readonly string[]) {
  const copies = join(folder, 'copies');
  const describe = (name: string): Copy => {
    const { mtime, size } = statSync(join(copies, name));
    return { name, at: mtime.toISOString(), bytes: size };
  };
  const keep = async (why: string, at: Date): Promise<Copy> => {
    mkdirSync(copies, { recursive: true });
    const name = freeName(copies, `${why}-${at.toISOString().slice(0, 19).replaceAll(':', '')}`);
    await copyTo(db, join(copies, name));
    return describe(name);
  };
  return {
    /** Where copies lie. */
    folder: copies,
    /** Copies the data into any file while it goes on being written. An existing file is not overwritten. */
    copyTo: (file: string): Promise<void> => copyTo(db, file),
    /** Copies the data into the folder of copies. `why` begins the file's name. */
    keep,
    list: (): Copy[] =>
      existsSync(copies)
        ? readdirSync(copies)
            .filter((name) => NAME.test(name))
            .sort()
            .map(describe)
        : [],
    /** The path of a copy by its name, null where there is none. */
    find: (name: string): string | null =>
      NAME.test(name) && existsSync(join(copies, name)) ? join(copies, name) : null,
    /**
     * Puts a copy in place of the data, which is itself kept as a copy first. The copy is not changed; one from an
     * earlier version is brought up to date after it is in place.
     */
    putBack: async (file: string, at: Date): Promise<Copy> => {
      if (!existsSync(file)) throw new StoreError('missing', `${file} is not there`);
      inspectFile(file, migrations.length);
      const kept = await keep('before-restore', at);
      await overwrite(db, file);
      migrate(db, migrations, () => undefined);
      return kept;
    },
    keepBeforeMigrating: (from: number): void => {
      mkdirSync(copies, { recursive: true });
      const file = join(copies, freeName(copies, `before-version-${from + 1}`));
      db.prepare('VACUUM INTO ?').run(file);
    },
  };
}

/** Copied under another name first, so that a copy is either whole or not there. */
async function copyTo(db: Database.Database, file: string): Promise<void> {
  if (existsSync(file)) throw new StoreError('broken-rule', `${file} is there already; it was left as it is`);
  const unfinished = `${file}.unfinished`;
  rmSync(unfinished, { force: true });
  await db.backup(unfinished);
  settle(unfinished);
  renameSync(unfinished, file);
}

/** Leaves one plain file without a log beside it. */
function settle(file: string): void {
  const copy = new Database(file);
  copy.pragma('journal_mode = DELETE');
  copy.close();
}

/** Writes a copy over the data in one transaction of the database's own. */
async function overwrite(db: Database.Database, file: string): Promise<void> {
  const scratch = `${db.name}.restoring`;
  copyFileSync(file, scratch);
  const from = new Database(scratch);
  try {
    from.pragma('journal_mode = WAL');
    await from.backup(db.name);
  } finally {
    from.close();
    for (const end of ['', '-wal', '-shm']) rmSync(scratch + end, { force: true });
  }
  versionOf(db);
}

function freeName(folder: string, stem: string): string {
  for (let n = 1; ; n++) {
    const name = n === 1 ? `${stem}.sqlite` : `${stem}-${n}.sqlite`;
    if (!existsSync(join(folder, name))) return name;
  }
}
