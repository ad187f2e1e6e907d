import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  chmodSync,
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { describe, expect, test } from 'vitest';
import { connect } from '../../../trials/store/connection.ts';
import { dataFolder } from '../../../trials/store/data-folder.ts';
import { migrate } from '../../../trials/store/migrate.ts';
import { APPLICATION_ID, MIGRATIONS } from '../../../trials/store/migrations.ts';
import { DATA_FILE, openStore, openStoreToRead } from '../../../trials/store/store.ts';
import { StoreError } from '../../../trials/store/store-error.ts';
import { folderWithData, freshFolder, storeWithData } from '../../support/trial-folder.ts';

const digest = (file: string) => createHash('sha256').update(readFileSync(file)).digest('hex');

function faultOf(act: () => unknown): StoreError {
  try {
    act();
  } catch (thrown) {
    if (thrown instanceof StoreError) return thrown;
    throw thrown;
  }
  throw new Error('nothing was thrown');
}

describe('a store that is opened', () => {
  test('loses nothing it has acknowledged: log, synchronisation and foreign keys are set', () => {
    const store = storeWithData({ demo: false });
    const settings = ['journal_mode', 'synchronous', 'foreign_keys', 'busy_timeout', 'secure_delete'].map(
      (name) => [name, store.pragma(name)],
    );
    expect(Object.fromEntries(settings)).toEqual({
      journal_mode: 'wal',
      synchronous: 2,
      foreign_keys: 1,
      busy_timeout: 5000,
      secure_delete: 1,
    });
  });

  test('every table is strict', () => {
    const db = new Database(join(folderWithData({ demo: false }), DATA_FILE), { readonly: true });
    const tables = db
      .prepare("SELECT name, strict FROM pragma_table_list WHERE schema = 'main' AND type = 'table'")
      .all() as {
      name: string;
      strict: number;
    }[];
    db.close();
    const own = tables.filter(({ name }) => !name.startsWith('sqlite_'));
    expect(own.length).toBeGreaterThan(12);
    expect(own.filter(({ strict }) => strict !== 1)).toEqual([]);
  });

  test('carries the version and the mark of this program', () => {
    const store = storeWithData({ demo: false });
    expect([store.pragma('user_version'), store.pragma('application_id')]).toEqual([
      MIGRATIONS.length,
      APPLICATION_ID,
    ]);
  });

  test('a folder that is not there is made', () => {
    const folder = join(freshFolder(), 'a', 'b');
    openStore(folder).close();
    expect(existsSync(join(folder, DATA_FILE))).toBe(true);
  });
});

describe('what is refused in words and left as it is', () => {
  const refuse = (name: string, make: (file: string) => void, fault: StoreError['fault']) =>
    test(name, () => {
      const folder = freshFolder();
      const file = join(folder, DATA_FILE);
      make(file);
      const before = digest(file);
      const error = faultOf(() => openStore(folder));
      expect(error.fault).toBe(fault);
      expect(error.message).toContain(file);
      expect(digest(file)).toBe(before);
      const again = faultOf(() => openStore(folder));
      expect(again.fault).toBe(fault);
    });

  const withData = (change: (db: Database.Database) => void) => (file: string) => {
    copyFileSync(join(folderWithData(), DATA_FILE), file);
    const db = new Database(file);
    change(db);
    db.close();
  };

  refuse(
    'a newer version',
    withData((db) => db.pragma(`user_version = ${MIGRATIONS.length + 1}`)),
    'newer',
  );
  refuse(
    'a database of another program',
    withData((db) => db.pragma('application_id = 7')),
    'foreign',
  );
  refuse('a file that is no database', (file) => writeFileSync(file, 'x'.repeat(5000)), 'foreign');
  refuse('an empty file', (file) => writeFileSync(file, ''), 'damaged');
  refuse(
    'a file cut short',
    (file) => {
      const whole = readFileSync(join(folderWithData(), DATA_FILE));
      writeFileSync(file, whole.subarray(0, Math.floor(whole.length / 2)));
    },
    'damaged',
  );
  refuse(
    'a file with a page overwritten',
    (file) => {
      const whole = readFileSync(join(folderWithData(), DATA_FILE));
      whole.fill(0xff, 4096, 3 * 4096);
      writeFileSync(file, whole);
    },
    'damaged',
  );

  test('a second opening, in this process or another, as long as the first lasts', () => {
    const folder = folderWithData({ demo: false });
    const first = openStore(folder);
    expect(faultOf(() => openStore(folder)).fault).toBe('in-use');
    const script = `import('${join(import.meta.dirname, '../../../trials/store/store.ts')}').then((s) => { try { s.openStore(process.argv[1]); } catch (e) { console.log(e.fault); } })`;
    const child = () =>
      spawnSync(process.execPath, ['--import', 'tsx', '-e', script, folder], {
        encoding: 'utf8',
      }).stdout.trim();
    expect(child()).toBe('in-use');
    first.close();
    expect(child()).toBe('');
    openStore(folder).close();
  });

  test.skipIf(process.getuid?.() === 0)('a folder that may not be written', () => {
    const folder = freshFolder();
    chmodSync(folder, 0o500);
    expect(faultOf(() => openStore(folder)).fault).toBe('read-only');
  });

  test('a folder whose place is taken by a file', () => {
    const file = join(freshFolder(), 'taken');
    writeFileSync(file, '');
    expect(faultOf(() => openStore(file)).fault).toBe('read-only');
  });
});

describe('a store that is only read', () => {
  test('reads and copies while another writes, and changes nothing', async () => {
    const folder = folderWithData();
    const writer = openStore(folder);
    const reader = openStoreToRead(folder);
    writer.acts.add('demo', { at: '2026', who: 'maker', act: 'wrote beside a reader', detail: '' });
    expect(reader.acts.list('demo').at(-1)!.act).toBe('wrote beside a reader');
    expect(reader.documents.write('demo')).toEqual(writer.documents.write('demo'));
    expect(() => reader.write(() => reader.trials.touch('demo', 'x'))).toThrow(/not written/);
    const file = join(freshFolder(), DATA_FILE);
    await reader.copies.copyTo(file);
    reader.close();
    writer.close();
    const copy = openStore(join(file, '..'));
    expect(copy.acts.list('demo').at(-1)!.act).toBe('wrote beside a reader');
    copy.close();
  });

  test('says what is missing or in the way', () => {
    expect(faultOf(() => openStoreToRead(freshFolder())).fault).toBe('missing');
    const folder = folderWithData();
    const db = new Database(join(folder, DATA_FILE));
    db.pragma('user_version = 0');
    db.close();
    expect(faultOf(() => openStoreToRead(folder)).fault).toBe('older');
  });
});

describe('migrations', () => {
  const twoSteps = [
    ...MIGRATIONS,
    'CREATE TABLE later (id INTEGER PRIMARY KEY) STRICT; INSERT INTO later VALUES (7);',
  ];

  test('from empty and from every released version end at the same tables', () => {
    const schemaOf = (folder: string) => {
      const db = new Database(join(folder, DATA_FILE), { readonly: true });
      const rows = db.prepare('SELECT type, name, sql FROM sqlite_schema ORDER BY type, name').all();
      db.close();
      return rows;
    };
    const direct = freshFolder();
    openStore(direct).close();
    for (let version = 1; version <= MIGRATIONS.length; version++) {
      const folder = freshFolder();
      const db = connect(join(folder, DATA_FILE));
      migrate(db, MIGRATIONS.slice(0, version), () => undefined);
      db.close();
      openStore(folder).close();
      expect(schemaOf(folder)).toEqual(schemaOf(direct));
    }
  });

  test('keep a copy of the file as it was, which opens and holds the same', () => {
    const folder = folderWithData();
    const store = openStore(folder, { migrations: twoSteps });
    const copies = store.copies.list();
    const trials = store.trials.list();
    store.close();
    expect(copies.map(({ name }) => name)).toEqual([`before-version-${MIGRATIONS.length + 1}.sqlite`]);
    const kept = freshFolder();
    copyFileSync(join(folder, 'copies', copies[0]!.name), join(kept, DATA_FILE));
    const before = openStore(kept);
    expect(before.pragma('user_version')).toBe(MIGRATIONS.length);
    expect(before.trials.list()).toEqual(trials);
    before.close();
  });

  test('a first start keeps no copy: there is nothing to lose', () => {
    const folder = freshFolder();
    openStore(folder, { migrations: twoSteps }).close();
    expect(existsSync(join(folder, 'copies'))).toBe(false);
  });

  test('are done whole or not at all', () => {
    const folder = folderWithData();
    const broken = [
      ...MIGRATIONS,
      'CREATE TABLE half (id INTEGER) STRICT; CREATE TABLE half (id INTEGER) STRICT;',
    ];
    expect(() => openStore(folder, { migrations: broken })).toThrow();
    const store = openStore(folder);
    expect(store.pragma('user_version')).toBe(MIGRATIONS.length);
    expect(() => store.documents.write('demo')).not.toThrow();
    store.close();
    const db = new Database(join(folder, DATA_FILE), { readonly: true });
    expect(db.prepare("SELECT count(*) AS n FROM sqlite_schema WHERE name = 'half'").get()).toEqual({ n: 0 });
    db.close();
  });

  test('an older program refuses what a newer one has migrated', () => {
    const folder = folderWithData();
    openStore(folder, { migrations: twoSteps }).close();
    expect(faultOf(() => openStore(folder)).fault).toBe('newer');
  });
});

describe('the data folder', () => {
  test('is the one asked for, then the environment, then the system’s place for data', () => {
    expect(dataFolder('/x/y', { DROPWISE_DATA: '/z' }, 'linux')).toBe('/x/y');
    expect(dataFolder(undefined, { DROPWISE_DATA: '/z' }, 'linux')).toBe('/z');
    expect(dataFolder(undefined, { XDG_DATA_HOME: '/d' }, 'linux')).toBe('/d/dropwise');
    expect(dataFolder(undefined, {}, 'darwin')).toMatch(/Application Support\/Dropwise$/);
    expect(dataFolder(undefined, { APPDATA: '/r' }, 'win32')).toMatch(/Dropwise$/);
  });

  test('a copy of a copy does not appear among the copies', () => {
    const folder = folderWithData({ demo: false });
    mkdirSync(join(folder, 'copies'));
    writeFileSync(join(folder, 'copies', 'x.sqlite.unfinished'), 'half');
    writeFileSync(join(folder, 'copies', '..sqlite'), 'odd');
    const store = openStore(folder);
    expect(store.copies.list()).toEqual([]);
    expect(store.copies.find('../dropwise.sqlite')).toBeNull();
    store.close();
    expect(readdirSync(join(folder, 'copies')).length).toBe(2);
    expect(statSync(join(folder, DATA_FILE)).size).toBeGreaterThan(0);
  });
});
