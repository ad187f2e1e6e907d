import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { loadDemo } from '../../../trials/rounds/demo-trial.ts';
import { compute } from '../../../trials/rounds/operations.ts';
import { assignReading } from '../../../trials/rounds/readings.ts';
import { csvText, unguarded } from '../../../trials/schema/csv-text.ts';
import { openStore } from '../../../trials/store/store.ts';
import { contextOf } from '../../support/trial-folder.ts';
import { dropwise, Folder } from '../support/command-line.ts';

let folder: Folder;
let data: string;
beforeEach(() => {
  folder = new Folder();
  data = join(folder.path, 'data');
  const store = openStore(data);
  loadDemo(contextOf(store));
  store.close();
});
afterEach(() => folder.remove());

/** What the workbench reads from the demo in a data folder, as text. */
async function readingIn(place: string): Promise<string> {
  const store = openStore(place);
  const { kind, input, seed } = assignReading(contextOf(store), 'demo', []);
  store.close();
  return JSON.stringify(await compute(kind, input, seed));
}

describe('a whole trial', () => {
  test('as one document gives the same reading to the byte in another house', async () => {
    const out = await dropwise('export', 'demo', '--data', data);
    const other = join(folder.path, 'other');
    await dropwise('import', folder.write('demo.json', out.out), '--data', other);
    const reading = await readingIn(data);
    expect(reading.length).toBeGreaterThan(10_000);
    expect(await readingIn(other)).toBe(reading);
  });

  test('as files gives the same reading to the command', async () => {
    const files = join(folder.path, 'files');
    const made = await dropwise('export', 'demo', '--csv', files, '--data', data);
    expect(made.out).toContain('brief.json, mixes.csv, scores.csv, answers.csv are written');
    const [brief, mixes, scores] = ['brief.json', 'mixes.csv', 'scores.csv'].map((name) => join(files, name));
    const reading = JSON.parse(await readingIn(data));
    const fit = await dropwise('fit', brief!, mixes!, scores!, '--json');
    expect(JSON.stringify(JSON.parse(fit.out).attributes)).toBe(JSON.stringify(reading.fit.attributes));
    const panel = await dropwise('panel', scores!, '--brief', brief!, '--json');
    expect(JSON.stringify(JSON.parse(panel.out).attributes)).toBe(JSON.stringify(reading.panel.attributes));
    const answers = readFileSync(join(files, 'answers.csv'), 'utf8').trimEnd().split('\r\n');
    expect(answers[0]).toBe('session,assessor,position,code,mix,question,value,received,late');
    expect(answers.length).toBeGreaterThan(500);
  });

  test('is not written over what is there', async () => {
    writeFileSync(join(folder.path, 'mine'), 'mine');
    const made = await dropwise('export', 'demo', '--csv', join(folder.path, 'mine'), '--data', data);
    expect([made.status, made.out]).toEqual([1, '']);
    expect(made.err).toContain('allowed a folder to make');
    expect(readFileSync(join(folder.path, 'mine'), 'utf8')).toBe('mine');
  });
});

describe('text for spreadsheets', () => {
  test('guards what would be run, and is read back as it was', () => {
    const names = ['=1+1', '-x', '@cmd', '+3', "'=1", "''-x", "'plain", 'a,b', 'say "no"', ' spaced ', 'x;y'];
    const lines = csvText(
      ['mix'],
      names.map((name) => [name]),
    )
      .split('\r\n')
      .slice(1, -1);
    expect(lines[0]).toBe(`"'=1+1"`);
    const cells = lines.map((line) =>
      line.startsWith('"') ? line.slice(1, -1).replaceAll('""', '"') : line,
    );
    for (const cell of cells) expect(cell).not.toMatch(/^[=+\-@\t\r]/);
    expect(cells.map(unguarded)).toEqual(names);
    expect(csvText(['a'], [[-1.5], [null], [1e-7]])).toBe('a\r\n-1.5\r\n\r\n1e-7\r\n');
  });

  test('mixes and scores named so are read under their own names', async () => {
    const brief = join(import.meta.dirname, '../../../examples/yarn/brief.json');
    const read = (name: string) =>
      readFileSync(join(brief, '..', name), 'utf8').replaceAll(/\by1\b/g, `"'=y1"`);
    const files = ['mixes.csv', 'scores.csv'].map((name) => folder.write(name, read(name)));
    const { out, err } = await dropwise('panel', files[1]!, '--json');
    expect(err).toBe('');
    expect(out).toContain('"=y1"');
    expect((await dropwise('fit', brief, ...files, '--json')).status).toBe(0);
  });
});
