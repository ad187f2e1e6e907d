import { copyFileSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Context } from '../../trials/rounds/context.ts';
import { loadDemo } from '../../trials/rounds/demo-trial.ts';
import { DATA_FILE, openStore, type Store } from '../../trials/store/store.ts';
import { atFileEnd } from './file-end.ts';

const templates = new Map<boolean, string>();
let base: string | null = null;
let folders = 0;

/** A folder of its own for one test, gone when the file has run. */
export function freshFolder(): string {
  base ??= makeBase();
  const folder = join(base, `f${folders++}`);
  mkdirSync(folder);
  return folder;
}

function makeBase(): string {
  const made = mkdtempSync(join(tmpdir(), 'dropwise-test-'));
  atFileEnd(() => {
    rmSync(made, { recursive: true, force: true });
    templates.clear();
    base = null;
  });
  return made;
}

/** A folder with data as after a first start: copied from one made once per file. */
export function folderWithData({ demo = true } = {}): string {
  let template = templates.get(demo);
  if (template === undefined) {
    template = freshFolder();
    const store = openStore(template);
    if (demo) loadDemo({ store, now: () => NOON, who: 'demo' });
    store.close();
    templates.set(demo, template);
  }
  const folder = freshFolder();
  copyFileSync(join(template, DATA_FILE), join(folder, DATA_FILE));
  return folder;
}

/** The hour at which tests happen. */
export const NOON = new Date('2026-03-10T12:00:00.000Z');

/** A store over such a folder, closed when the file has run. */
export function storeWithData(options: { demo?: boolean } = {}): Store {
  const store = openStore(folderWithData(options));
  atFileEnd(() => store.close());
  return store;
}

/** A context whose clock goes on by a second with every look. */
export function contextOf(store: Store, who = 'maker'): Context {
  let seconds = 0;
  return { store, who, now: () => new Date(NOON.getTime() + 1000 * seconds++) };
}
