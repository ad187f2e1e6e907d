import { copyFileSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { openSitting } from '../../../trials/rounds/sitting-life.ts';
import { messageId, takeAnswers } from '../../../trials/rounds/take-answers.ts';
import { DATA_FILE, openStore, openStoreToRead, type Store } from '../../../trials/store/store.ts';
import { StoreError } from '../../../trials/store/store-error.ts';
import { makeReadOnly, smallDisk } from '../../support/small-disk.ts';
import { drawnTrial } from '../../support/small-trial.ts';
import { contextOf, folderWithData } from '../../support/trial-folder.ts';

/** A folder with an open sitting. */
function eveningIn(folder: string) {
  const store = openStore(folder);
  const { trial, sitting } = drawnTrial(contextOf(store));
  openSitting(contextOf(store), { trial, sitting });
  const pages = Number(store.pragma('page_count'));
  store.close();
  return { seat: { trial, sitting, assessor: 'Ann' }, pages };
}

/** Sends answers until they are refused; what was acknowledged, and the refusal. */
function answerUntilRefused(store: Store, seat: { trial: string; sitting: string; assessor: string }) {
  const { code } = store.sittings.cupsOf(seat)[0]!;
  const acknowledged: string[] = [];
  for (let count = 0; count < 20_000; count++) {
    const message = { code, question: 'bitter', value: 1, phone: messageId(['p']), count };
    const batch = [0, 1].map((n) => ({ ...message, id: messageId([String(count), String(n)]) }));
    try {
      acknowledged.push(...takeAnswers(contextOf(store), seat, batch).stored);
    } catch (refusal) {
      return { acknowledged, refusal };
    }
  }
  return { acknowledged, refusal: undefined };
}

function expectFull(refusal: unknown): void {
  expect(refusal).toBeInstanceOf(StoreError);
  expect((refusal as StoreError).fault).toBe('full');
  expect((refusal as StoreError).message).toMatch(/disk is full.*nothing was stored/);
}

function expectSound(folder: string, seat: Parameters<Store['answers']['messages']>[0], ids: string[]): void {
  const again = openStore(folder);
  expect(again.answers.messages(seat).map(({ message }) => message)).toEqual(ids);
  expect(again.pragma('integrity_check')).toBe('ok');
  again.close();
}

describe('a disk that fills up', () => {
  test('(a limit of pages) refuses in words, keeps every acknowledged answer and stays sound', () => {
    const folder = folderWithData({ demo: false });
    const { seat, pages } = eveningIn(folder);
    const store = openStore(folder, { maximumPages: pages + 6 });
    const { acknowledged, refusal } = answerUntilRefused(store, seat);
    expectFull(refusal);
    expect(acknowledged.length).toBeGreaterThan(0);
    store.close();
    expectSound(folder, seat, acknowledged);
  });

  const disk = smallDisk(1500);
  test.skipIf(disk === null)('(a real one, in memory) does the same, and goes on once there is room', () => {
    const folder = disk!;
    const { seat } = eveningIn(folder);
    const ballast = join(folder, 'ballast');
    writeFileSync(ballast, Buffer.alloc(200_000));
    const store = openStore(folder);
    const first = answerUntilRefused(store, seat);
    expectFull(first.refusal);
    expect(first.acknowledged.length).toBeGreaterThan(0);
    expect(store.answers.messages(seat)).toHaveLength(first.acknowledged.length);
    store.close();
    writeFileSync(ballast, '');
    expectSound(folder, seat, first.acknowledged);
  });
});

describe('a disk that cannot be written', () => {
  const disk = smallDisk(4000);
  test.skipIf(disk === null)('is said in words, is left as it is, and can still be looked at', () => {
    const folder = disk!;
    copyFileSync(join(folderWithData(), DATA_FILE), join(folder, DATA_FILE));
    const before = readFileSync(join(folder, DATA_FILE));
    expect(makeReadOnly(folder)).toBe(true);
    let refusal: unknown;
    try {
      openStore(folder).close();
    } catch (thrown) {
      refusal = thrown;
    }
    expect(refusal).toBeInstanceOf(StoreError);
    expect((refusal as StoreError).fault).toBe('read-only');
    expect((refusal as StoreError).message).toMatch(/cannot be written: choose another folder/);
    const store = openStoreToRead(folder);
    expect(store.trials.list().map(({ trial }) => trial)).toEqual(['demo']);
    store.close();
    expect(readdirSync(folder)).toEqual([DATA_FILE]);
    expect(readFileSync(join(folder, DATA_FILE)).equals(before)).toBe(true);
  });
});
