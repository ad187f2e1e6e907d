import { copyFileSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setImmediate as turn } from 'node:timers/promises';
import { describe, expect, test } from 'vitest';
import { openSitting } from '../../../trials/rounds/sitting-life.ts';
import { messageId, takeAnswers } from '../../../trials/rounds/take-answers.ts';
import { DATA_FILE, openStore } from '../../../trials/store/store.ts';
import { drawnTrial } from '../../support/small-trial.ts';
import { contextOf, folderWithData, freshFolder, NOON, storeWithData } from '../../support/trial-folder.ts';

/** The same data in a folder of its own, opened. */
function openCopy(file: string) {
  const folder = freshFolder();
  copyFileSync(file, join(folder, DATA_FILE));
  return openStore(folder);
}

describe('a copy made while the data is written', () => {
  test('is sound and holds all that was acknowledged before it began', async () => {
    const store = storeWithData();
    const context = contextOf(store);
    const { trial, sitting } = drawnTrial(context);
    openSitting(context, { trial, sitting });
    const seat = { trial, sitting, assessor: 'Ann' };
    const { code } = store.sittings.cupsOf(seat)[0]!;
    const phone = messageId(['phone']);
    let count = 0;
    const acknowledged: string[] = [];
    const write = () => {
      const id = messageId([String(count)]);
      const message = { id, code, question: 'bitter', value: count % 100, phone, count: count++ };
      acknowledged.push(...takeAnswers(context, seat, [message]).stored);
    };
    for (let i = 0; i < 50; i++) write();
    const before = [...acknowledged];
    let copying = true;
    const copy = store.copies.keep('backup', NOON).finally(() => {
      copying = false;
    });
    while (copying) {
      write();
      await turn();
    }
    const { name } = await copy;
    expect(acknowledged.length).toBeGreaterThan(before.length);
    const copied = openCopy(join(store.copies.folder, name));
    const held = copied.answers.messages(seat).map(({ message }) => message);
    expect(held.slice(0, before.length)).toEqual(before);
    expect(acknowledged.slice(0, held.length)).toEqual(held);
    expect(copied.pragma('integrity_check')).toBe('ok');
    copied.close();
  });

  test('does not overwrite a file that is there', async () => {
    const store = storeWithData({ demo: false });
    const file = join(freshFolder(), 'taken.sqlite');
    writeFileSync(file, 'mine');
    await expect(store.copies.copyTo(file)).rejects.toThrow(/left as it is|left as it was/);
    expect(readFileSync(file, 'utf8')).toBe('mine');
  });
});

describe('a copy put back', () => {
  test('gives the data as it was, keeps what it replaces, and goes on being written', async () => {
    const store = storeWithData();
    const context = contextOf(store);
    const before = store.documents.write('demo');
    const copy = await store.copies.keep('backup', NOON);
    const { trial } = drawnTrial(context);
    const kept = await store.copies.putBack(store.copies.find(copy.name)!, NOON);
    expect(store.trials.find(trial)).toBeNull();
    expect(store.documents.write('demo')).toEqual(before);
    expect(store.pragma('integrity_check')).toBe('ok');
    const another = drawnTrial(context).trial;
    expect(store.trials.find(another)).not.toBeNull();
    const replaced = openCopy(join(store.copies.folder, kept.name));
    expect(replaced.trials.find(trial)).not.toBeNull();
    replaced.close();
    const { folder } = store;
    store.close();
    const again = openStore(folder);
    expect(again.trials.find(another)).not.toBeNull();
    expect(again.pragma('journal_mode')).toBe('wal');
    again.close();
  });

  test('from an earlier version is brought up to date', async () => {
    const folder = folderWithData();
    const old = openStore(folder);
    const copy = await old.copies.keep('backup', NOON);
    old.close();
    const { MIGRATIONS } = await import('../../../trials/store/migrations.ts');
    const migrations = [...MIGRATIONS, 'CREATE TABLE later (id INTEGER PRIMARY KEY) STRICT;'];
    const store = openStore(folder, { migrations });
    await store.copies.putBack(store.copies.find(copy.name)!, NOON);
    expect(store.pragma('user_version')).toBe(MIGRATIONS.length + 1);
    expect(store.pragma('table_list(later)')).toBe('main');
    store.close();
  });

  test('that is damaged or not there changes nothing', async () => {
    const store = storeWithData();
    const before = store.documents.write('demo');
    const file = join(freshFolder(), 'broken.sqlite');
    writeFileSync(file, 'no database at all '.repeat(50));
    await expect(store.copies.putBack(file, NOON)).rejects.toThrow(/damaged/);
    await expect(store.copies.putBack(`${file}x`, NOON)).rejects.toThrow(/not there/);
    expect(store.documents.write('demo')).toEqual(before);
    expect(existsSync(`${store.file}.restoring`)).toBe(false);
  });
});
