import { describe, expect, test } from 'vitest';
import { assignReading, storeReading } from '../../../trials/rounds/readings.ts';
import { type PaperBallot, ROUTES, type RouteName } from '../../../trials/schema/api.ts';
import { LADDER_ROUTES } from '../../../trials/schema/routes/ladder-routes.ts';
import { SHELF_ROUTES } from '../../../trials/schema/routes/shelf-routes.ts';
import { writeCodes } from '../../../trials/schema/waiting-code.ts';
import { answeredRoutes } from '../../support/answered-routes.ts';
import {
  plannedTrial,
  sittingRequest,
  smallBrief,
  smallMixes,
  weighedTrial,
} from '../../support/small-trial.ts';
import { contextOf } from '../../support/trial-folder.ts';
import { openSittingIn, openWorkbench } from '../../support/workbench.ts';

const workbench = await openWorkbench();
const { ask, store } = workbench;
const context = contextOf(store);
const { asked, answered, refused } = answeredRoutes(workbench);

describe('trials and briefs', () => {
  test('are made, listed, read, changed and recorded', async () => {
    const made = await answered('createTrial', { body: { ...smallBrief(), surprise: 1 } });
    expect(made.warnings).toEqual(['surprise: unknown field, passed over']);
    const params = { trial: made.trial };
    const list = await answered('listTrials');
    expect(list.map(({ trial }: { trial: string }) => trial).sort()).toEqual([made.trial, 'demo'].sort());
    expect(await answered('readTrial', { params })).toEqual(made);
    const changed = await answered('changeBrief', { params, body: { ...smallBrief(), name: 'Other' } });
    expect(changed).toMatchObject({ name: 'Other', briefVersion: 2 });
    const acts = await answered('listActs', { params });
    expect(acts.map(({ act, who }: { act: string; who: string }) => [act, who])).toEqual([
      ['made the trial', 'maker'],
      ['changed the brief', 'maker'],
    ]);
  });

  test('are held against limits and caps as they stand', async () => {
    const judged = await answered('judgeBrief', { body: smallBrief() });
    expect(judged).toMatchObject({ drink: null, unchecked: [{ because: expect.any(String) }, {}, {}] });
    const crossed = { ...smallBrief(), batch: { grams: 4, readability: 0.03 } };
    await refused('judgeBrief', { body: crossed }, 'bad-input');
  });

  test('that cannot be used are refused with one fault a place', async () => {
    const brief = { ...smallBrief(), batch: { grams: 4, readability: 0.03 }, name: 7 };
    const error = await refused('createTrial', { body: brief }, 'bad-input');
    expect(error.faults).toEqual([
      { where: 'name', found: '7', allowed: 'text', message: 'name: found 7, allowed text' },
    ]);
    const across = await refused('createTrial', { body: { ...brief, name: 'x' } }, 'bad-input');
    expect(across.faults[0]).toMatchObject({ where: 'batch.readability', found: '0.03' });
    const nowhere = { params: { trial: 'nowhere' } };
    for (const name of ['readTrial', 'listActs', 'exportTrial'] as const)
      await refused(name, nowhere, 'not-found');
    await refused('changeBrief', { ...nowhere, body: smallBrief() }, 'not-found');
  });
});

describe('a proof', () => {
  test('is a round of its own, made of stored proposals', async () => {
    const trial = weighedTrial(context);
    const [{ planned }] = smallMixes() as [ReturnType<typeof smallMixes>[number]];
    const stored = { round: 1, at: '2026-01-01T00:00:00.000Z', seed: 1, version: '1', input: {} };
    store.readings.add(trial, { reading: 'next-1', kind: 'next', ...stored, result: { best: planned } });
    const body = { reading: 'next-1' };
    const round = await answered('startProof', { params: { trial }, body });
    expect(round).toMatchObject({ round: 2, mixes: [{ mix: 'proof' }] });
    await refused('startProof', { params: { trial }, body: { reading: 'next-7' } }, 'not-found');
  });
});

describe('the card', () => {
  test('is drafted, published, listed and opened by a code', async () => {
    const trial = weighedTrial(context);
    const [{ planned }] = smallMixes() as [ReturnType<typeof smallMixes>[number]];
    const stored = { round: 1, at: '2026-01-01T00:00:00.000Z', seed: 1, version: '1', input: {} };
    store.readings.add(trial, { reading: 'next-1', kind: 'next', ...stored, result: { best: planned } });
    const body = { reading: 'next-1' };
    const params = { trial };
    expect(await answered('draftCard', { params, body })).toMatchObject({ version: 1, chance: null });
    const published = await answered('publishCard', { params, body });
    expect(published.address).toContain(`/#/trials/${trial}/print/card?version=1`);
    expect(published.qr).toMatch(/^<svg/);
    expect(await answered('listCards', { params })).toEqual([published.card]);
    expect(await answered('readCard', { params: { trial, version: 1 } })).toEqual(published);
    await refused('readCard', { params: { trial, version: 2 } }, 'not-found');
    await refused('publishCard', { params, body: { ...body, sizes: [-1] } }, 'bad-input');
  });
});

describe('old files', () => {
  test('are looked at, then entered as a tasted round', async () => {
    const base64 = (text: string) => Buffer.from(text).toString('base64');
    const mixes = { name: 'mixes.csv', base64: base64('mix,peel,lime\na,1,3\nb,2,2\n') };
    const scores = { name: 'scores.csv', base64: base64('mix,taster,bitter\na,Ann,4\nb,Ann,6\n') };
    const body = { trial: null, name: 'Old', mixes, scores };
    expect(await answered('lookAtOldTables', { body })).toMatchObject({ faults: [], found: { cups: 2 } });
    const { trial, round } = await answered('enterOldTables', { body });
    expect(store.rounds.mixes(trial, round).map(({ mix }) => mix)).toEqual(['a', 'b']);
  });
});

describe('a reading', () => {
  test('gives its pairs of mixes one attribute at a time', async () => {
    const pair = { a: 'm1', b: 'm2', difference: 3, standardError: 1, denDf: 9, p: 0.01 };
    const panel = { attributes: [{ id: 'bitter', differences: [pair] }] };
    const reading = storeReading(context, assignReading(context, 'demo', []), { panel, fit: null });
    const params = { trial: 'demo', reading, attribute: 'bitter' };
    expect(await answered('readPairs', { params })).toEqual([pair]);
  });
});

describe('rounds', () => {
  test('are accepted from a plan that a worker made, weighed and marked', async () => {
    const { trial } = await answered('createTrial', { body: smallBrief() });
    const params = { trial };
    const job = await answered('startPlan', { params, body: { mixes: 3, seed: 4 } });
    await ended(job.job);
    const reading = (await answered('readJob', { params: { job: job.job } })).reading;
    expect(await answered('readReading', { params: { trial, reading } })).toMatchObject({
      kind: 'plan',
      seed: 4,
    });
    expect(await answered('readShown', { params: { trial, reading } })).toMatchObject({ kind: 'plan' });
    const pairs = { params: { trial, reading, attribute: 'bitter' } };
    await refused('readPairs', pairs, 'not-found');
    await refused('acceptRound', { params, body: { reading } }, 'bad-input');
    const planned = plannedTrial(context);
    const round = { trial: planned, round: 1 };
    expect((await answered('readRound', { params: round })).restHours).toBe(24);
    for (const {
      mix,
      planned: { grams },
    } of smallMixes())
      await answered('weighMix', { params: { ...round, mix }, body: { grams } });
    const marked = await answered('markStep', { params: round, body: { step: 'rest', done: true } });
    expect(marked.steps.map(({ state }: { state: string }) => state)).toEqual([
      'done',
      'done',
      'done',
      'now',
      'waiting',
      'waiting',
      'waiting',
    ]);
    await refused('weighMix', { params: { ...round, mix: 'qa1' }, body: { grams: { gin: 1 } } }, 'bad-input');
    await refused('weighMix', { params: { ...round, mix: 'zz' }, body: { grams: {} } }, 'not-found');
    await refused('markStep', { params: round, body: { step: 'plan', done: true } }, 'bad-input');
    await refused('readRound', { params: { trial: planned, round: 'one' } }, 'bad-input');
    await refused('readRound', { params: { trial: planned, round: 4 } }, 'not-found');
  });

  test('of proposals keep the ones chosen', async () => {
    const { trial } = await answered('createTrial', { body: smallBrief() });
    const proposals = smallMixes().map(({ mix, planned, why }) => ({ mix, ...planned, why, chance: 0.2 }));
    store.write(() =>
      store.readings.add(trial, {
        reading: 'next-1',
        kind: 'next',
        round: 1,
        at: '2026-01-01T00:00:00.000Z',
        seed: 1,
        version: '0',
        input: {},
        result: { proposals },
      }),
    );
    const body = { reading: 'next-1', only: ['qb2'] };
    expect((await answered('acceptRound', { params: { trial }, body })).mixes.length).toBe(1);
    await refused('acceptRound', { params: { trial }, body }, 'conflict');
  });
});

describe('a sitting', () => {
  test('is drawn, poured, opened, followed, tasted, closed and its key opened', async () => {
    const trial = weighedTrial(context);
    const drawn = await answered('drawSitting', { params: { trial, round: 1 }, body: sittingRequest() });
    const params = { trial, sitting: drawn.sitting };
    expect(drawn.links.map(({ assessor }: { assessor: string }) => assessor)).toEqual(['Ann', 'Bob']);
    for (const { address, qr } of drawn.links) {
      expect(address).toMatch(new RegExp(`^${workbench.base}/ballot\\.html#[\\w-]{43}$`));
      expect(qr).toMatch(/^<svg[^>]*>.*<\/svg>$/s);
    }
    const token = drawn.links[0].address.split('#')[1];
    const headers = { 'x-dropwise-ballot': token };
    const sheet = await answered('readPouring', { params });
    expect(sheet.trays.map(({ cups }: { cups: object[] }) => cups.length)).toEqual([4, 4]);
    expect((await answered('pourerLink', { params })).address).toMatch(/\/#\/pour\/[\w-]{43}$/);
    expect((await answered('readBallot', { headers })).state).toBe('waiting');
    expect((await answered('openSitting', { params })).state).toBe('open');
    const ballot = await answered('readBallot', { headers });
    expect(ballot.state).toBe('open');
    await answered('giveConsent', { headers, body: { version: ballot.consent.version, mayTaste: true } });
    const id = 'b'.repeat(32);
    const answer = { id, code: ballot.cups[0].code, question: 'bitter', value: 41.5, phone: id, count: 1 };
    const receipt = await answered('sendAnswers', { headers, body: { answers: [answer] } });
    expect(receipt).toEqual({ stored: [id], refused: [], late: false });
    await answered('sendProgress', { headers, body: { position: 1 } });
    const live = await answered('readLive', { params });
    expect(live.trays[0]).toMatchObject({ assessor: 'Ann', mayTaste: true, at: 1, filled: 0, phones: 1 });
    const paper: PaperBallot = {
      assessor: 'Bob',
      answers: [{ code: sheet.trays[1].cups[0].code, question: 'liking', value: 7 }],
    };
    expect((await answered('enterPaper', { params, body: paper })).answers).toBe(2);
    expect(await answered('checkPaper', { params, body: paper })).toEqual({ same: 1, differences: [] });
    expect((await answered('addTaster', { params, body: { assessor: 'Cy' } })).links.length).toBe(1);
    await refused('addTaster', { params, body: { assessor: 'Cy' } }, 'conflict');
    expect((await answered('closeSitting', { params })).state).toBe('closed');
    await refused('openKey', { params, body: { why: '' } }, 'bad-input');
    expect((await answered('openKey', { params, body: { why: 'all in' } })).key).toBe('opened');
    const late = await answered('sendAnswers', {
      headers,
      body: { answers: [{ ...answer, id: 'c'.repeat(32), count: 2 }] },
    });
    expect(late.late).toBe(true);
    const renewed = await answered('renewLink', { params, body: { assessor: 'Bob' } });
    expect(renewed.links.length).toBe(1);
    await refused('renewLink', { params, body: { assessor: 'Eve' } }, 'not-found');
    await refused('openSitting', { params }, 'conflict');
    await refused('readLive', { params: { trial, sitting: 's9' } }, 'not-found');
    await refused('simulateSitting', { params }, 'conflict');
    await refused('drawSitting', { params: { trial, round: 1 }, body: sittingRequest() }, 'conflict');
    await refused(
      'drawSitting',
      { params: { trial, round: 1 }, body: { ...sittingRequest(), label: 'B', mixes: ['no'] } },
      'bad-input',
    );
  });

  test('is rearranged for who does not come, read in by code, named alone, and read as a difference test', async () => {
    const trial = weighedTrial(context);
    const draw = async (label: string, given: object) => {
      const body = { ...sittingRequest(), label, ...given };
      const { sitting, links } = await answered('drawSitting', { params: { trial, round: 1 }, body });
      return { params: { trial, sitting }, token: links[0].address.split('#')[1] as string };
    };
    const alone = await draw('alone', { alone: true });
    const absence = { assessor: 'Bob', absent: true };
    expect((await answered('markAbsent', { ...alone, body: absence })).answersExpected).toBe(8);
    expect((await answered('redrawOrders', alone)).unnamed).toHaveLength(4);
    await refused('markAbsent', { ...alone, body: { assessor: 'Eve', absent: true } }, 'not-found');
    await answered('openSitting', alone);
    await refused('redrawOrders', alone, 'conflict');
    const headers = { 'x-dropwise-ballot': alone.token };
    const ballot = await answered('readBallot', { headers });
    const phone = 'e'.repeat(32);
    const answer = { id: phone, code: ballot.cups[0].code, question: 'bitter', value: 5, phone, count: 1 };
    const [text] = writeCodes(ballot.seat, [answer], ['bitter', 'liking']);
    expect(await answered('readCode', { params: { trial }, body: { text } })).toMatchObject({ stored: 1 });
    await refused('readCode', { params: { trial }, body: { text: 'soda' } }, 'bad-input');
    const { unnamed } = await answered('closeSitting', alone);
    const drinks = ['qa1', 'qb2', 'qc3', 'reference'];
    const names = unnamed.map((code: string, i: number) => ({ code, mix: drinks[i] }));
    await refused('nameCups', { ...alone, body: { names: names.slice(1) } }, 'bad-input');
    expect((await answered('nameCups', { ...alone, body: { names } })).unnamed).toEqual([]);
    await refused('readTest', alone, 'conflict');
    const test = await draw('test', { mixes: ['qa1'], test: { form: 'triangle' } });
    await answered('openSitting', test);
    await answered('openKey', { ...test, body: { why: 'done' } });
    expect(await answered('readTest', test)).toMatchObject({ method: 'triangle', trials: 0, result: null });
  });

  test('of the demo is answered by its invented tasters', async () => {
    const body = { label: 'Friday', assessors: ['P1', 'P2'], mixes: ['m1'] };
    const { sitting } = await answered('drawSitting', { params: { trial: 'demo', round: 1 }, body });
    const params = { trial: 'demo', sitting };
    await answered('openSitting', { params });
    expect(await answered('simulateSitting', { params })).toMatchObject({ answers: 24, answersExpected: 24 });
  });

  test('not begun takes no answers, and the phone is told to keep them', async () => {
    const trial = weighedTrial(context);
    const drawn = await answered('drawSitting', { params: { trial, round: 1 }, body: sittingRequest() });
    const headers = { 'x-dropwise-ballot': drawn.links[0].address.split('#')[1] };
    const { cups } = await answered('readBallot', { headers });
    const id = 'd'.repeat(32);
    const answer = { id, code: cups[0].code, question: 'bitter', value: 1, phone: id, count: 1 };
    await refused('sendAnswers', { headers, body: { answers: [answer] } }, 'conflict');
    await refused('giveConsent', { headers, body: { version: 'old', mayTaste: true } }, 'conflict');
    await refused('giveConsent', { headers, body: { version: 'old', mayTaste: false } }, 'bad-input');
    await refused('sendAnswers', { headers, body: { answers: [] } }, 'bad-input');
    await refused('sendProgress', { headers, body: { position: -1 } }, 'bad-input');
  });
});

describe('the data', () => {
  test('of a trial goes out and comes in the same', async () => {
    const params = { trial: 'demo' };
    const document = await answered('exportTrial', { params });
    const imported = await answered('importTrial', { body: document });
    const again = await answered('exportTrial', { params: { trial: imported.trial } });
    const strip = (whole: unknown, trial: string) =>
      JSON.stringify(whole).replaceAll(`"trial":"${trial}"`, '');
    expect(strip(again, imported.trial)).toBe(strip(document, 'demo'));
    await refused('importTrial', { body: { format: 'trial/1' } }, 'bad-input');
    const own = { name: 'Own oil', kind: 'essential oil', source: 'its sheet' };
    await ask('keepMaterial', { params: { material: 'own-oil' }, body: own });
    const { files } = await answered('exportTables', { params });
    expect(files.map(({ name }: { name: string }) => name)).toEqual([
      'brief.json',
      'mixes.csv',
      'scores.csv',
      'answers.csv',
      'materials.json',
    ]);
  });

  test('of a taster is told and taken out', async () => {
    const { trial } = openSittingIn(store);
    const params = { trial, assessor: 'Ann' };
    expect((await answered('exportTaster', { params })).seats).toHaveLength(1);
    expect((await answered('eraseTaster', { params })).name).toBe('P1');
    await refused('exportTaster', { params }, 'not-found');
  });

  test('is copied and put back', async () => {
    const copy = await answered('makeBackup');
    const { trial } = await answered('createTrial', { body: smallBrief() });
    expect(await answered('listBackups')).toEqual([copy]);
    const kept = await answered('restoreBackup', { params: { backup: copy.backup } });
    expect(kept.backup).toMatch(/^before-restore-/);
    await refused('readTrial', { params: { trial } }, 'not-found');
    for (const backup of ['../dropwise.sqlite', 'none.sqlite', 'x'])
      await refused('restoreBackup', { params: { backup } }, 'not-found');
  });
});

describe('the house', () => {
  test('says what it is, who calls and what it offers', async () => {
    expect((await answered('health')).version).toMatch(/^\d+\.\d+\.\d+/);
    await answered('me');
    const document = await answered('openapi');
    const operations = Object.values(document.paths as object).flatMap((path) =>
      Object.values(path as object),
    );
    expect(operations.map(({ operationId }) => operationId).sort()).toEqual(Object.keys(ROUTES).sort());
    expect(document.openapi).toBe('3.1.0');
    expect(JSON.stringify(document)).not.toMatch(/"\$ref":"#\/(definitions|\$defs)/);
    expect(
      document.paths['/api/trials/{trial}/rounds/{round}'].get.parameters.map(
        ({ name }: { name: string }) => name,
      ),
    ).toEqual(['trial', 'round']);
    await answered('leave');
  });

  test('takes a body only as JSON, only as large as it may be', async () => {
    const send = (body: string, type: string) =>
      fetch(`${workbench.base}/api/trials`, { method: 'POST', body, headers: { 'content-type': type } });
    const codeOf = async (response: Response) => [response.status, (await response.json()).error.code];
    expect(await codeOf(await send('{"format": "brief/1"', 'application/json'))).toEqual([400, 'bad-input']);
    expect(await codeOf(await send('format=brief', 'application/x-www-form-urlencoded'))).toEqual([
      400,
      'bad-input',
    ]);
    expect(await codeOf(await send('7', 'application/json'))).toEqual([400, 'bad-input']);
    expect(await codeOf(await send('{}', 'application/json; charset=utf-7'))).toEqual([400, 'bad-input']);
    expect(await codeOf(await send(`"${'x'.repeat(1_100_000)}"`, 'application/json'))).toEqual([
      413,
      'too-large',
    ]);
    expect(await codeOf(await fetch(`${workbench.base}/api/trials/%E0%A4%A`))).toEqual([400, 'bad-input']);
  });
});

async function ended(job: string): Promise<void> {
  for (let n = 0; n < 200; n++) {
    if ((await ask('readJob', { params: { job } })).body.state !== 'running') return;
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
  throw new Error('the computation did not end');
}

test('every route of the table but those that need a passcode, a stream or a worker was answered here', () => {
  const elsewhere: RouteName[] = [
    'enter',
    'enterToPour',
    'followJob',
    'followLive',
    'cancelJob',
    'startNext',
    'startPredict',
    'startReading',
    // each answered in ladders.test.ts and shelf.test.ts, which check that they are
    ...(Object.keys({ ...LADDER_ROUTES, ...SHELF_ROUTES }) as RouteName[]),
  ];
  const missing = (Object.keys(ROUTES) as RouteName[]).filter(
    (name) => !asked.has(name) && !elsewhere.includes(name),
  );
  expect(missing).toEqual([]);
});
