import { describe, expect, test } from 'vitest';
import type { Job, Live, TrialView } from '../../../trials/schema/api.ts';
import type { Brief } from '../../../trials/schema/brief.ts';
import { openSittingIn, openWorkbench, pathOf } from '../../support/workbench.ts';

const workbench = await openWorkbench();
const { ask, base, store } = workbench;
const demo = { trial: 'demo' };

/** Reads server-sent events until `enough` says so or the stream ends. */
async function listen<T>(path: string, enough: (event: T) => boolean): Promise<T[]> {
  const abort = new AbortController();
  const response = await fetch(base + path, {
    signal: abort.signal,
    headers: { 'accept-encoding': 'gzip, br' },
  });
  expect(response.headers.get('content-type')).toMatch(/^text\/event-stream/);
  expect(response.headers.get('cache-control')).toContain('no-transform');
  expect(response.headers.get('content-encoding')).toBeNull();
  const events: T[] = [];
  let text = '';
  for await (const chunk of response.body!.pipeThrough(new TextDecoderStream())) {
    text += chunk;
    const parts = text.split('\n\n');
    text = parts.pop()!;
    for (const part of parts) if (part.startsWith('data: ')) events.push(JSON.parse(part.slice(6)) as T);
    if (events.some(enough)) break;
  }
  abort.abort();
  return events;
}

const start = async (mixes: number): Promise<Job> =>
  (await ask('startPlan', { params: demo, body: { mixes } })).body;
const follow = (job: Job) =>
  listen<Job>(pathOf('followJob', { job: job.job }), ({ state }) => state !== 'running');

describe('a computation', () => {
  test('tells how far it is and ends with a stored reading', async () => {
    const events = await follow(await start(6));
    expect(events[0]).toMatchObject({ state: 'running', kind: 'plan' });
    expect(events.some(({ share, doing }) => share === 0.5 && doing === 'half way')).toBe(true);
    const last = events.at(-1)!;
    expect(last).toMatchObject({ state: 'done', share: 1, error: null });
    const reading = await ask('readReading', { params: { ...demo, reading: last.reading! } });
    expect(reading.body).toMatchObject({ kind: 'plan', seed: 1, result: { third: 1 / 3 } });
    expect(reading.body.input.brief.format).toBe('brief/1');
    expect(await follow(last)).toEqual([last]);
  });

  test('that cannot be done says which input is at fault', async () => {
    const last = (await follow(await start(102))).at(-1)!;
    expect(last.state).toBe('failed');
    expect(last.error).toEqual({
      code: 'bad-input',
      message: 'too few',
      faults: [{ where: 'mixes', found: '102', allowed: '5 or more', message: 'too few' }],
    });
  });

  test('that only tries something out leaves the brief and the latest proposals alone', async () => {
    const next = async (body: object) =>
      ask('startNext', { params: demo, body: { count: 2, ...body } as { count: number } });
    const whatIf = { targets: { bitter: 75 }, components: { peel: { high: 0.45 } } };
    const plain = (await follow((await next({})).body)).at(-1)!;
    const tried = (await follow((await next({ whatIf, onHand: { peel: 2 } })).body)).at(-1)!;
    const reading = (await ask('readReading', { params: { ...demo, reading: tried.reading! } })).body;
    const { brief, onHand } = reading.input as { brief: Brief; onHand: object };
    expect(brief.attributes.find(({ id }) => id === 'bitter')!.target).toBe(75);
    expect(brief.components.find(({ id }) => id === 'peel')!.high).toBe(0.45);
    expect(onHand).toEqual({ peel: 2 });
    const trial: TrialView = (await ask('readTrial', { params: demo })).body;
    expect(trial.brief.attributes.find(({ id }) => id === 'bitter')!.target).toBe('reference');
    expect(trial.readings.filter(({ kind }) => kind === 'next').map((one) => one.reading)).toEqual([
      plain.reading,
    ]);
    const accepted = await ask('acceptRound', {
      params: demo,
      body: { reading: tried.reading!, restHours: 24 },
    });
    expect(accepted.status).toBe(400);
    for (const wrong of [
      { targets: { nobody: 3 } },
      { targets: { bitter: 900 } },
      { components: { peel: { high: 7 } } },
    ])
      expect((await next({ whatIf: wrong })).status).toBe(400);
    expect((await next({ onHand: { nobody: 3 } })).status).toBe(400);
  });

  test('that breaks says no more than that', async () => {
    const last = (await follow(await start(101))).at(-1)!;
    expect([last.state, last.error?.code]).toEqual(['failed', 'internal']);
    expect(JSON.stringify(last)).not.toContain('secret');
  });

  test.each([
    ['when asked', 103],
    ['even if it does not listen', 104],
  ])('stops %s, and the next one runs', async (_how, mixes) => {
    const job = await start(mixes);
    const following = follow(job);
    await new Promise((resolve) => setTimeout(resolve, 150));
    await ask('cancelJob', { params: { job: job.job } });
    const last = (await following).at(-1)!;
    expect([last.state, last.reading, last.error]).toEqual(['cancelled', null, null]);
    expect((await follow(await start(6))).at(-1)!.state).toBe('done');
  });

  test('needs something to compute from', async () => {
    expect((await ask('startPlan', { params: demo, body: { mixes: 0 } })).status).toBe(400);
    expect((await ask('startNext', { params: demo, body: { count: 99 } })).status).toBe(400);
    const { trial } = openSittingIn(store);
    for (const [name, body] of [
      ['startReading', {}],
      ['startNext', { count: 2 }],
    ] as const)
      expect((await ask(name, { params: { trial }, body })).status).toBe(409);
    const rows = [{ ratios: { peel: 1 }, settings: { dose: 0.2 } }];
    for (const [name, body] of [
      ['startReading', {}],
      ['startNext', { count: 2 }],
      ['startPredict', { rows }],
    ] as const)
      expect((await ask(name, { params: demo, body })).status).toBe(200);
  });

  test('that is not known is not found, followed or cancelled', async () => {
    for (const name of ['readJob', 'followJob', 'cancelJob'] as const)
      expect((await ask(name, { params: { job: 'none' } })).status).toBe(404);
  });

  test('has its place: no more than twenty wait or run', async () => {
    const first = await start(103);
    const statuses: number[] = [];
    for (let n = 0; n < 24; n++)
      statuses.push((await ask('startPlan', { params: demo, body: { mixes: 6 } })).status);
    await ask('cancelJob', { params: { job: first.job } });
    expect(statuses.filter((status) => status === 429).length).toBeGreaterThanOrEqual(5);
    expect(statuses.filter((status) => status === 200).length).toBeLessThanOrEqual(19);
  });
});

describe('the live page', () => {
  test('is told at once and then at every change, at most once a beat', async () => {
    const { place, ann, codes } = openSittingIn(store);
    const path = pathOf('followLive', place);
    const following = listen<Live>(path, ({ trays }) => trays[0]!.at === 4);
    await new Promise((resolve) => setTimeout(resolve, 100));
    for (let position = 1; position <= 4; position++) {
      const id = String(position).repeat(32);
      const answer = {
        id,
        code: codes[position - 1],
        question: 'bitter',
        value: 5,
        phone: id,
        count: position,
      };
      await ask('sendAnswers', { headers: ann, body: { answers: [answer] } });
      await ask('sendProgress', { headers: ann, body: { position } });
    }
    const events = await following;
    expect(events[0]!.trays.map(({ at }) => at)).toEqual([0, 0]);
    expect(events.at(-1)!.trays[0]).toMatchObject({ assessor: 'Ann', at: 4, phones: 4 });
    expect(events.length).toBeLessThanOrEqual(1 + 8);
    expect(JSON.stringify(events)).not.toMatch(/qa1|qb2|qc3|"value"|reference/);
  });

  test('of a sitting that is not there is refused before it begins', async () => {
    const response = await fetch(base + pathOf('followLive', { trial: 'demo', sitting: 's99' }));
    expect([response.status, (await response.json()).error.code]).toEqual([404, 'not-found']);
  });

  test('ends when the workbench stops', async () => {
    const other = await openWorkbench();
    const response = await fetch(other.base + pathOf('followLive', { trial: 'demo', sitting: 's1' }));
    const began = performance.now();
    const text = response.text();
    await other.stop();
    expect(await text).toContain('data: ');
    expect(performance.now() - began).toBeLessThan(2000);
  });
});
