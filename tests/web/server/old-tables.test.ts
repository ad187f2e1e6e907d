import { beforeAll, describe, expect, test } from 'vitest';
import { gather } from '../../../trials/rounds/gather.ts';
import { trialTables } from '../../../trials/rounds/trial-tables.ts';
import type { OldLook } from '../../../trials/schema/old-tables.ts';
import { smallBrief } from '../../support/small-trial.ts';
import { openWorkbench, type Workbench } from '../../support/workbench.ts';

let workbench: Workbench;

beforeAll(async () => {
  workbench = await openWorkbench();
});

/** A spreadsheet as it is saved on a German computer: mark at the beginning, semicolons, decimal commas, CRLF. */
const MIXES = `\uFEFFProbe-Nr;Sample;Peel oil (g);Lime oil (g);Wood oil (g);Dose (mL/L);Total
1;A;0,50;1,25;0,25;0,3;2,00
2;B;1,00;0,50;0,50;0,3;2,00
3;C;0,75;0,75;0,50;0,25;2,00
`.replaceAll('\n', '\r\n');
const SCORES = `Evening;Taster;Sample;Bitter;Overall liking;Remarks
Tue;Ann;A;61,5;7;
Tue;Ann;B;40;;"dull; flat"
Tue;Bob;A;55;6;
Tue;Bob;C;30,5;8;
Wed;Bob;Target;48;9;
`;

interface Given {
  trial?: string | null;
  mixes?: string;
  scores?: string;
  [more: string]: unknown;
}

const base64 = (text: string, encoding: BufferEncoding = 'utf8') =>
  Buffer.from(text, encoding).toString('base64');

function tables({ trial = null, mixes = MIXES, scores = SCORES, ...more }: Given = {}) {
  return {
    ...{ trial, name: 'Old peel', reference: 'Target', ...more },
    mixes: { name: 'weighed.csv', base64: base64(mixes) },
    scores: { name: 'tasted.csv', base64: base64(scores) },
  };
}

async function look(given: Given = {}): Promise<OldLook> {
  const { status, body } = await workbench.ask('lookAtOldTables', { body: tables(given) });
  expect(status).toBe(200);
  return body;
}

async function smallTrial(): Promise<string> {
  return (await workbench.ask('createTrial', { body: smallBrief() })).body.trial;
}

/** How much there is of everything, so that nothing half-written goes unseen. */
function amounts(): unknown {
  const { store } = workbench;
  return store.trials.list().map(({ trial }) => ({
    trial,
    rounds: store.rounds.list(trial).length,
    sittings: store.sittings.list(trial).length,
    acts: store.acts.list(trial).length,
  }));
}

describe('a look at old files', () => {
  test('guesses the columns, drafts a brief of what was weighed, and stores nothing', async () => {
    const before = amounts();
    const seen = await look();
    expect(seen.faults).toEqual([]);
    expect(seen.mixes.columns.map(({ as }) => as)).toEqual([
      'pass',
      'mix',
      'component',
      'component',
      'component',
      'setting',
      'pass',
    ]);
    expect(seen.scores.columns.map(({ as }) => as)).toEqual([
      'session',
      'assessor',
      'mix',
      'attribute',
      'attribute',
      'pass',
    ]);
    expect(seen.found).toEqual({
      ...{ mixes: 3, bottles: 3, cups: 5, answers: 9, missing: 1 },
      assessors: ['Ann', 'Bob'],
      sessions: ['Tue', 'Wed'],
    });
    expect(seen.brief).toMatchObject({
      name: 'Old peel',
      components: [
        { id: 'peel-oil', name: 'Peel oil', low: 0.25, high: 0.5 },
        { id: 'lime-oil', name: 'Lime oil', low: 0.25, high: 0.63 },
        { id: 'wood-oil', name: 'Wood oil', low: 0.12, high: 0.25 },
      ],
      settings: [{ id: 'dose', unit: 'mL/L', low: 0.25, high: 0.3 }],
      batch: { grams: 2, readability: 0.01 },
      attributes: [
        { id: 'bitter', scale: [0, 100] },
        { id: 'overall-liking', scale: [1, 9] },
      ],
    });
    expect(amounts()).toEqual(before);
  });

  test.each<[string, Given, string[]]>([
    [
      'a mass that is none',
      { mixes: MIXES.replace('0,75;0,75', '0,75;lots') },
      ['weighed.csv, line 4, column Lime oil (g)'],
    ],
    [
      'a score that is no number',
      { scores: SCORES.replace('B;40;', 'B;40;good') },
      ['tasted.csv, line 3, column Overall liking'],
    ],
    [
      'a mix nobody weighed',
      { scores: SCORES.replace('Bob;C', 'Bob;D') },
      ['tasted.csv, line 5, column Sample'],
    ],
    [
      'a mix twice',
      { mixes: MIXES.replace('2;B', '2;A') },
      [
        'weighed.csv, line 3, column Sample',
        'weighed.csv, line 3, column Peel oil (g)',
        'weighed.csv, line 3, column Lime oil (g)',
        'weighed.csv, line 3, column Wood oil (g)',
      ],
    ],
    ['a cup twice', { scores: SCORES.replace('Bob;C', 'Bob;A') }, ['tasted.csv, line 5, column Sample']],
    [
      'a short row',
      { scores: SCORES.replace('Tue;Bob;A;55;6;', 'Tue;Bob;A') },
      ['tasted.csv, line 4, column 3'],
    ],
    ['no taster', { scores: SCORES.replace('Taster', 'Colour') }, ['tasted.csv, line 1']],
    ['a stranger who knew', { knowing: ['Zoe'] }, ['knowing']],
  ])('points at %s by file, line and column', async (_, given, places) => {
    const seen = await look({ ...given });
    expect(seen.faults.map(({ where }) => where)).toEqual(places);
    expect(seen.found).toBeNull();
    const before = amounts();
    const { status, body } = await workbench.ask('enterOldTables', { body: tables(given) });
    expect([status, body.error.code, body.error.faults]).toEqual([400, 'bad-input', seen.faults]);
    expect(amounts()).toEqual(before);
  });

  test('names an encoding that is none of text', async () => {
    const mixes = { name: 'weighed.csv', base64: base64(`\uFEFF${MIXES}`, 'utf16le') };
    const { body } = await workbench.ask('lookAtOldTables', { body: { ...tables(), mixes } });
    expect(body.faults[0]).toMatchObject({ where: 'weighed.csv', found: 'UTF-16 (little-endian)' });
  });

  test('shows the rows at fault wherever they stand', async () => {
    const many = Array.from({ length: 40 }, (_, k) => `Tue;P${k};A;${k === 33 ? 'x' : 50};5;\n`).join('');
    const seen = await look({ scores: `${SCORES.split('\n')[0]}\n${many}` });
    expect(seen.scores.count).toBe(40);
    expect(seen.scores.rows.map(({ line }) => line)).toEqual([2, 3, 4, 5, 6, 7, 35]);
  });
});

describe('old files entered', () => {
  test('as a new trial: bottles as weighed, a closed sitting for each session, marked, ready to be read', async () => {
    const { status, body } = await workbench.ask('enterOldTables', { body: tables({ knowing: ['Bob'] }) });
    expect(status).toBe(200);
    const trial = body.trial as string;
    const round = (await workbench.ask('readRound', { params: { trial, round: 1 } })).body;
    expect(round.steps.map(({ state }: { state: string }) => state)).toEqual([
      'done',
      'done',
      'done',
      'done',
      'done',
      'done',
      'now',
    ]);
    expect(round.mixes[0]).toMatchObject({
      weighed: { 'peel-oil': 0.5, 'lime-oil': 1.25, 'wood-oil': 0.25 },
      note: 'entered from old files: weighed.csv, line 2',
    });
    expect(round.sittings).toMatchObject([
      { label: 'Tue', state: 'closed', key: 'opened', old: true, cups: 4, knowing: ['Bob'], warnings: [] },
      { label: 'Wed', state: 'closed', key: 'opened', old: true, cups: 1 },
    ]);
    const { brief } = (await workbench.ask('readTrial', { params: { trial } })).body;
    const { servings, knowing } = gather(workbench.store, trial, brief);
    expect(knowing).toEqual(['Bob']);
    expect(
      servings.map(({ mix, assessor, position, scores }) => [mix, assessor, position, ...scores]),
    ).toEqual([
      ['A', 'Ann', null, 61.5, 7],
      ['B', 'Ann', null, 40, null],
      ['A', 'Bob', null, 55, 6],
      ['C', 'Bob', null, 30.5, 8],
      ['reference', 'Bob', null, 48, 9],
    ]);
    const acts = (await workbench.ask('listActs', { params: { trial } })).body;
    expect(acts.map(({ act }: { act: string }) => act)).toEqual(['made the trial', 'entered from old files']);
  });

  test('into a trial: what the demo hands out goes in again and comes out the same', async () => {
    const { store, ask } = workbench;
    const files = Object.fromEntries(trialTables(store, 'demo').map(({ name, text }) => [name, text]));
    const { trial } = (await ask('createTrial', { body: JSON.parse(files['brief.json']!) })).body;
    const given = { mixes: files['mixes.csv']!, scores: files['scores.csv']!, reference: '' };
    const entered = await ask('enterOldTables', { body: tables({ trial, ...given }) });
    expect(entered.body).toEqual({ trial, round: 1 });
    const back = Object.fromEntries(trialTables(store, trial).map(({ name, text }) => [name, text]));
    expect(back['mixes.csv']).toBe(files['mixes.csv']);
    expect(back['scores.csv']!.split('\r\n').sort()).toEqual(files['scores.csv']!.split('\r\n').sort());
  });

  test('beside mixes of the same names only under names of their own', async () => {
    const trial = await smallTrial();
    const mixes = 'mix,peelOil,limeOil,woodOil,dose\na,1,1,2,0.3\nb,2,1,1,0.3\n';
    const scores = 'mix,taster,bitter,liking\na,Ann,50,7\nb,Ann,60,5\n';
    const given = { trial, mixes, scores };
    expect((await workbench.ask('enterOldTables', { body: tables(given) })).body).toEqual({
      trial,
      round: 1,
    });
    const again = await look(given);
    expect(again.faults.map(({ where }) => where)).toEqual([
      'weighed.csv, line 2, column mix',
      'weighed.csv, line 3, column mix',
      'tasted.csv, line 2, column session',
    ]);
    const renamed = await workbench.ask('enterOldTables', { body: tables({ ...given, before: 'old ' }) });
    expect(renamed.body).toEqual({ trial, round: 2 });
    const offRange = await look({ ...given, before: 'x ', mixes: mixes.replace('0.3\nb', '0.9\nb') });
    expect(offRange.faults.map(({ where }) => where)).toEqual(['weighed.csv, line 2, column dose']);
    const halves = await look({ ...given, before: 'x ', scores: scores.replace('50,7', '50,7.5') });
    expect(halves.faults.map(({ where }) => where)).toEqual(['tasted.csv, line 2, column liking']);
  });

  test('not into the invented demo', async () => {
    const { status, body } = await workbench.ask('lookAtOldTables', { body: tables({ trial: 'demo' }) });
    expect([status, body.error.code]).toEqual([409, 'conflict']);
  });
});
