import { describe, expect, test } from 'vitest';
import { drawPourerToken } from '../../../trials/rounds/sitting-life.ts';
import { ROUTES, type Role, type RouteName } from '../../../trials/schema/api.ts';
import { drawPasscode, isPasscode, setPasscode } from '../../../web/server/passcode.ts';
import { contextOf, NOON } from '../../support/trial-folder.ts';
import { openSittingIn, openWorkbench, type Workbench } from '../../support/workbench.ts';

const names = Object.keys(ROUTES) as RouteName[];
const callers: readonly Role[] = ['maker', 'pourer', 'taster', 'anyone'];

/** A shared workbench with one of each kind of caller. */
async function sharedHouse(workbench: Workbench) {
  const { store, ask } = workbench;
  const passcode = drawPasscode();
  await setPasscode(store, passcode, NOON);
  const sitting = openSittingIn(store);
  const token = drawPourerToken(contextOf(store), sitting.place);
  const maker = await ask('enter', { body: { passcode } });
  const pourer = await ask('enterToPour', { body: { token } });
  const cookie = (reply: typeof maker) => ({ cookie: reply.headers.get('set-cookie')!.split(';')[0]! });
  const headers = { maker: cookie(maker), pourer: cookie(pourer), taster: sitting.ann, anyone: {} };
  return { ...sitting, headers, passcode, setCookie: maker.headers.get('set-cookie')! };
}

const workbench = await openWorkbench({ shared: true });
const house = await sharedHouse(workbench);
const params = {
  ...house.place,
  round: 1,
  mix: 'qa1',
  reading: 'x',
  job: 'x',
  backup: 'x',
  assessor: 'Zed',
  lot: 'b1',
  ladder: 1,
  limit: 1,
  material: 'x',
};

describe('each role at each route of the table', () => {
  for (const name of names)
    for (const role of callers) {
      const roles: readonly Role[] = ROUTES[name].roles;
      const allowed = roles.includes('anyone') || roles.includes(role);
      test(`${name}: a ${role} is ${allowed ? 'let in' : 'refused'}`, async () => {
        const abort = new AbortController();
        const response = await fetch(workbench.base + fill(ROUTES[name].path), {
          method: ROUTES[name].method,
          headers: { ...house.headers[role], ...(allowed ? {} : { 'content-type': 'application/json' }) },
          signal: abort.signal,
          ...(ROUTES[name].method === 'GET' || allowed ? {} : { body: '{"broken' }),
        });
        if (allowed) expect([200, 400, 404, 409]).toContain(response.status);
        else expect(response.status).toBe(403);
        if (response.headers.get('content-type')?.startsWith('text/event-stream')) abort.abort();
        else if (!allowed) expect((await response.json()).error.code).toBe('not-allowed');
        if (name === 'leave') await renewCookies();
      });
    }

  const fill = (path: string) =>
    path.replace(/:(\w+)/g, (_, key: string) => String(params[key as keyof typeof params]));

  /** Leaving gives a cookie back: the callers come in again. */
  async function renewCookies() {
    const token = drawPourerToken(contextOf(workbench.store), house.place);
    const enter = async (name: 'enter' | 'enterToPour', body: object) =>
      (await workbench.ask(name, { body })).headers.get('set-cookie')!.split(';')[0]!;
    house.headers.maker = { cookie: await enter('enter', { passcode: house.passcode }) };
    house.headers.pourer = { cookie: await enter('enterToPour', { token }) };
  }

  test('the table is whole: no route of the API answers that it does not hold', async () => {
    for (const path of ['/api', '/api/', '/api/secret', '/api/trials/demo/scores', '/api/ballot/key']) {
      const response = await fetch(workbench.base + path, { headers: house.headers.maker });
      expect([path, response.status]).toEqual([path, 404]);
      expect((await response.json()).error.code).toBe('not-found');
    }
  });
});

describe('a pourer', () => {
  test('sees the sitting of the link and no other', async () => {
    const other = openSittingIn(workbench.store);
    const headers = house.headers.pourer;
    expect((await workbench.ask('readPouring', { params: house.place, headers })).status).toBe(200);
    expect((await workbench.ask('readPouring', { params: other.place, headers })).status).toBe(403);
    expect(
      (await workbench.ask('readLive', { params: { trial: 'demo', sitting: 's1' }, headers })).status,
    ).toBe(403);
    const me = await workbench.ask('me', { headers });
    expect(me.body).toEqual({ role: 'pourer', shared: true, sitting: house.place, secret: false });
  });

  test('with a link that is not known stays outside', async () => {
    expect((await workbench.ask('enterToPour', { body: { token: 'x'.repeat(43) } })).status).toBe(403);
  });
});

describe('a taster', () => {
  test('stays one whatever cookie comes along', async () => {
    const headers = { ...house.headers.maker, ...house.headers.taster };
    expect((await workbench.ask('listTrials', { headers })).status).toBe(403);
    expect((await workbench.ask('me', { headers })).body.role).toBe('taster');
  });

  test('reaches the own ballot only', async () => {
    const [ann, bob] = await Promise.all([
      workbench.ask('readBallot', { headers: house.ann }),
      workbench.ask('readBallot', { headers: house.bob }),
    ]);
    expect([ann.body.taster, bob.body.taster]).toEqual(['Ann', 'Bob']);
    const id = 'a'.repeat(32);
    const answer = { id, code: ann.body.cups[0].code, question: 'bitter', value: 5, phone: id, count: 1 };
    const refused = await workbench.ask('sendAnswers', { headers: house.bob, body: { answers: [answer] } });
    expect(refused.body).toMatchObject({
      stored: [],
      refused: [{ id, because: expect.stringContaining('no cup of yours') }],
    });
  });

  test('with an unknown, empty or renewed link is nobody', async () => {
    for (const token of ['', 'x', 'y'.repeat(43)])
      expect((await workbench.ask('readBallot', { headers: { 'x-dropwise-ballot': token } })).status).toBe(
        403,
      );
    const { place, ann } = openSittingIn(workbench.store);
    await workbench.ask('renewLink', {
      params: place,
      body: { assessor: 'Ann' },
      headers: house.headers.maker,
    });
    expect((await workbench.ask('readBallot', { headers: ann })).status).toBe(403);
  });
});

describe('the passcode', () => {
  test('is stored as a salted hash and told from every other', async () => {
    const { store } = await openWorkbench({ demo: false });
    expect(await isPasscode(store, '')).toBe(false);
    await setPasscode(store, 'one two three', NOON);
    expect(await isPasscode(store, 'one two three')).toBe(true);
    for (const wrong of ['', 'one two thre', 'One two three', 'one two three '])
      expect(await isPasscode(store, wrong)).toBe(false);
    const first = store.access.houseSetting('passcode');
    await setPasscode(store, 'one two three', NOON);
    expect(store.access.houseSetting('passcode')).not.toBe(first);
    expect(first).not.toContain('one');
  });

  test('gives a cookie that scripts and other sites never see', () => {
    expect(house.setCookie).toMatch(/^dropwise-\d+=[\w-]{43};/);
    for (const word of ['HttpOnly', 'SameSite=Strict', 'Path=/']) expect(house.setCookie).toContain(word);
  });

  test('changed, or a cookie that has run out or been given back, means entering again', async () => {
    let now = NOON;
    const other = await openWorkbench({ shared: true, demo: false, now: () => now });
    await setPasscode(other.store, 'first', NOON);
    const enter = async (passcode: string) => {
      const { headers } = await other.ask('enter', { body: { passcode } });
      return { cookie: headers.get('set-cookie')!.split(';')[0]! };
    };
    const seen = async (headers: Record<string, string>) =>
      (await other.ask('listTrials', { headers })).status;
    const first = await enter('first');
    expect(await seen(first)).toBe(200);
    now = new Date(NOON.getTime() + 31 * 86_400_000);
    expect(await seen(first)).toBe(403);
    now = NOON;
    await other.ask('leave', { headers: first });
    expect(await seen(first)).toBe(403);
    const second = await enter('first');
    await setPasscode(other.store, 'second', NOON);
    expect(await seen(second)).toBe(403);
  });

  test('cannot be guessed at for long', async () => {
    const other = await openWorkbench({ shared: true, demo: false });
    await setPasscode(other.store, 'right', NOON);
    const tries = [];
    for (let n = 0; n < 12; n++)
      tries.push((await other.ask('enter', { body: { passcode: `wrong ${n}` } })).status);
    expect(tries).toEqual([...Array(10).fill(403), 429, 429]);
    expect((await other.ask('enter', { body: { passcode: 'right' } })).status).toBe(429);
  });
});

describe('this machine alone', () => {
  test('makes whoever sits here the maker, without a passcode', async () => {
    const own = await openWorkbench({ demo: false });
    expect((await own.ask('me')).body).toEqual({ role: 'maker', shared: false, sitting: null, secret: true });
    expect((await own.ask('listTrials')).status).toBe(200);
  });
});

describe('ballots', () => {
  test('are limited by link, not by address', async () => {
    const own = await openWorkbench({ demo: false });
    const { ann, bob } = openSittingIn(own.store);
    const send = (headers: Record<string, string>) =>
      own.ask('sendProgress', { headers, body: { position: 1 } });
    const statuses: number[] = [];
    for (let n = 0; n < 12; n++)
      statuses.push(
        ...(await Promise.all(Array.from({ length: 51 }, () => send(ann)))).map(({ status }) => status),
      );
    expect(statuses.filter((status) => status === 200).length).toBe(600);
    expect(statuses.filter((status) => status === 429).length).toBe(12);
    expect((await send(bob)).status).toBe(200);
  });
});
