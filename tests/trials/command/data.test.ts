import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { createTrial } from '../../../trials/rounds/create-trial.ts';
import { openStore } from '../../../trials/store/store.ts';
import { dropwise, Folder } from '../support/command-line.ts';
import { TINY_BRIEF } from '../support/tiny-trial.ts';

let folder: Folder;
let data: string;
beforeEach(() => {
  folder = new Folder();
  data = join(folder.path, 'data');
  const store = openStore(data);
  createTrial({ store, now: () => new Date('2026-01-02T03:04:05Z'), who: 'maker' }, TINY_BRIEF, {
    trial: 'tiny',
  });
  store.close();
});
afterEach(() => {
  folder.remove();
});

function trialsIn(place: string): string[] {
  const store = openStore(place);
  const names = store.trials.list().map(({ trial }) => trial);
  store.close();
  return names;
}

test('a trial goes out and comes in again, under its own id where that is free', async () => {
  const out = await dropwise('export', 'tiny', '--data', data);
  expect(out.status, out.err).toBe(0);
  expect(JSON.parse(out.out)).toMatchObject({ format: 'trial/1' });
  const file = folder.write('tiny.json', out.out);
  const other = join(folder.path, 'other');
  const first = await dropwise('import', file, '--data', other, '--json');
  expect(JSON.parse(first.out)).toEqual({ trial: 'tiny', name: 'Tiny' });
  const second = await dropwise('import', file, '--data', other);
  expect(second.out).toMatch(/^Tiny is there now, as trial [a-z0-9]+\.\n$/);
  expect(trialsIn(other)).toHaveLength(2);
});

test('a copy of all data is put back', async () => {
  const copy = join(folder.path, 'copy.sqlite');
  expect(await dropwise('backup', copy, '--data', data)).toEqual({
    status: 0,
    out: `All data is copied to ${copy}.\n`,
    err: '',
  });
  const other = join(folder.path, 'other');
  const restored = await dropwise('restore', copy, '--data', other, '--json');
  expect(restored.status, restored.err).toBe(0);
  expect(existsSync((JSON.parse(restored.out) as { kept: string }).kept)).toBe(true);
  expect(trialsIn(other)).toEqual(['tiny']);
});

test('an existing file is not overwritten by a backup', async () => {
  const file = folder.write('kept.txt', 'mine');
  const { status, err } = await dropwise('backup', file, '--data', data);
  expect(status).toBe(1);
  expect(err).toContain('is there already');
  expect(readFileSync(file, 'utf8')).toBe('mine');
});

test.each([
  ['export', 'none', /this trial is not there/],
  ['import', 'BROKEN', /found no JSON .*, allowed a trial as `export` wrote it/],
  ['import', 'OTHER', /allowed a trial as it was exported \(trial\/1\)/],
  ['import', '/nowhere/x.json', /found no such file, allowed a file that can be read/],
  ['restore', 'BROKEN', /is damaged/],
  ['restore', '/nowhere/x.sqlite', /found no such file/],
])('%s %s is refused and changes nothing', async (command, what, message) => {
  const files: Record<string, string> = {
    BROKEN: folder.write('broken', '{"format": '),
    OTHER: folder.write('other.json', TINY_BRIEF),
  };
  const { status, out, err } = await dropwise(command, files[what] ?? what, '--data', data);
  expect(err).toMatch(message);
  expect({ status, out }).toEqual({ status: 1, out: '' });
  expect(trialsIn(data)).toEqual(['tiny']);
});

test('a folder without data is not made by looking into it', async () => {
  const nowhere = join(folder.path, 'nowhere');
  const { status, err } = await dropwise('backup', join(folder.path, 'x.sqlite'), '--data', nowhere);
  expect(status).toBe(1);
  expect(err).toContain('there is no data in');
  expect(existsSync(nowhere)).toBe(false);
});

test('data that another process holds can be read and copied, not changed', async () => {
  const copy = join(folder.path, 'copy.sqlite');
  expect((await dropwise('backup', copy, '--data', data)).status).toBe(0);
  const store = openStore(data);
  const read = await dropwise('export', 'tiny', '--data', data);
  const changed = await dropwise('restore', copy, '--data', data);
  store.close();
  expect(read.status, read.err).toBe(0);
  expect(changed.status).toBe(1);
  expect(changed.err).toContain('another Dropwise has');
});
