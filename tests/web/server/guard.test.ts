import { request } from 'node:http';
import { describe, expect, test } from 'vitest';
import { addressesOf } from '../../../web/server/addresses.ts';
import { openSittingIn, openWorkbench } from '../../support/workbench.ts';

const own = await openWorkbench();
const shared = await openWorkbench({ shared: true });
const ballot = openSittingIn(own.store);

/** A request with any header, also those that fetch would not send. */
function send(
  base: string,
  path: string,
  headers: Record<string, string>,
  method = 'GET',
): Promise<{ status: number; headers: Record<string, unknown> }> {
  return new Promise((resolve, reject) => {
    const outgoing = request(base + path, { method, headers }, (response) => {
      response.resume();
      response.on('end', () => resolve({ status: response.statusCode ?? 0, headers: response.headers }));
    });
    outgoing.on('error', reject);
    outgoing.end();
  });
}

const port = new URL(own.base).port;

describe('the Host header', () => {
  test.each(['localhost', '127.0.0.1', 'LOCALHOST', '[::1]'])('%s is this machine', async (name) => {
    expect((await send(own.base, '/api/health', { host: `${name}:${port}` })).status).toBe(200);
  });

  test.each([
    'evil.example',
    `evil.example:${port}`,
    '127.0.0.1',
    '127.0.0.1:1',
    'localhost.evil.example',
    `127.0.0.1:${port}.evil`,
  ])('"%s" is not answered, page or not', async (host) => {
    for (const path of ['/api/health', '/', '/api/ballot'])
      expect((await send(own.base, path, { host })).status).toBe(403);
  });

  test('of a network address is answered only where the workbench is shared', async () => {
    const address = addressesOf(
      { shared: true, secure: null } as never,
      Number(new URL(shared.base).port),
    ).advertised()[0];
    const host = new URL(address ?? shared.base).host;
    expect((await send(shared.base, '/api/health', { host })).status).toBe(200);
    const elsewhere = `${new URL(`http://${host}`).hostname}:${port}`;
    if (address) expect((await send(own.base, '/api/health', { host: elsewhere })).status).toBe(403);
  });
});

describe('requests that another site has a browser send', () => {
  const refused = [
    { origin: 'http://evil.example' },
    { origin: 'null' },
    { origin: `http://localhost:${port}` },
    { origin: `https://127.0.0.1:${port}` },
    { 'sec-fetch-site': 'cross-site' },
    { 'sec-fetch-site': 'same-site' },
  ];
  test.each(refused)('%o are refused', async (headers) => {
    for (const [method, path] of [
      ['GET', '/api/trials'],
      ['POST', '/api/trials'],
      ['DELETE', '/api/access'],
    ] as const)
      expect((await send(own.base, path, headers as Record<string, string>, method)).status).toBe(403);
  });

  test('are told from those of the own pages', async () => {
    for (const headers of [
      { origin: own.base },
      { 'sec-fetch-site': 'same-origin' },
      { 'sec-fetch-site': 'none' },
    ] as Record<string, string>[])
      expect((await send(own.base, '/api/trials', headers)).status).toBe(200);
    expect((await send(own.base, '/', { 'sec-fetch-site': 'cross-site' })).status).toBe(404);
  });

  test('that carry a ballot are taken from an address this workbench has, and from no other', async () => {
    const origin = `http://localhost:${port}`;
    const asked = await send(
      own.base,
      '/api/ballot/answers',
      { origin, 'access-control-request-method': 'POST' },
      'OPTIONS',
    );
    expect(asked.status).toBe(204);
    expect(asked.headers['access-control-allow-origin']).toBe(origin);
    expect(asked.headers['access-control-allow-headers']).toContain('x-dropwise-ballot');
    const read = await send(own.base, '/api/ballot', { origin, ...ballot.ann });
    expect([read.status, read.headers['access-control-allow-origin']]).toEqual([200, origin]);
    for (const other of ['http://evil.example', 'null', `http://localhost:${Number(port) + 1}`]) {
      const stranger = await send(own.base, '/api/ballot', { origin: other, ...ballot.ann });
      expect([stranger.status, stranger.headers['access-control-allow-origin']]).toEqual([403, undefined]);
    }
  });
});

describe('what every answer carries', () => {
  test('forbids inline script, eval and other sites, and asks for no upgrade on plain http', async () => {
    const { headers } = await send(own.base, '/', {});
    const policy = String(headers['content-security-policy']);
    for (const rule of [
      "default-src 'none'",
      "script-src 'self'",
      "style-src 'self'",
      "img-src 'self' data: blob:",
      "frame-ancestors 'none'",
    ])
      expect(policy).toContain(rule);
    expect(policy).not.toMatch(/unsafe|upgrade|\*/);
    expect(headers).not.toHaveProperty('strict-transport-security');
    expect(headers).not.toHaveProperty('x-powered-by');
    expect(headers['x-content-type-options']).toBe('nosniff');
    expect(headers['referrer-policy']).toBe('no-referrer');
  });

  test('lets a shared ballot page try the other addresses', async () => {
    const { headers } = await send(shared.base, '/', {});
    const advertised = addressesOf(
      { shared: true, secure: null } as never,
      Number(new URL(shared.base).port),
    ).advertised();
    for (const address of advertised) expect(String(headers['content-security-policy'])).toContain(address);
  });

  test('answers of the API are not kept by anyone', async () => {
    expect((await send(own.base, '/api/trials', {})).headers['cache-control']).toBe('no-store');
    expect((await send(own.base, '/api/nothing', {})).headers['cache-control']).toBe('no-store');
  });

  test('pages that are not built are said to be missing in plain words', async () => {
    const response = await fetch(own.base);
    expect([response.status, response.headers.get('content-type')]).toEqual([
      404,
      'text/plain; charset=utf-8',
    ]);
    expect(await response.text()).toContain('have not been built');
  });
});
