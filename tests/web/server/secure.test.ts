import { readFileSync } from 'node:fs';
import { request } from 'node:https';
import { describe, expect, test } from 'vitest';
import { setPasscode } from '../../../web/server/passcode.ts';
import { serve } from '../../../web/server/server.ts';
import { ownCertificate } from '../../support/own-certificate.ts';
import { freshFolder, NOON, storeWithData } from '../../support/trial-folder.ts';

describe('with a certificate', () => {
  test('the workbench speaks https under the certified name, and its cookie is for https only', async () => {
    const files = ownCertificate(freshFolder(), 'tasting.example');
    const [certificate, key] = [files.certificate, files.key].map((file) => readFileSync(file, 'utf8'));
    const secure = { certificate: certificate!, key: key! };
    const store = storeWithData({ demo: false });
    await setPasscode(store, 'right', NOON);
    const running = await serve(
      {
        port: 0,
        shared: true,
        secure,
        pages: freshFolder(),
        worker: '',
        threads: 1,
        log: 'silent',
        beat: 20,
      },
      store,
      () => NOON,
    );
    const call = (path: string, method: string, headers: Record<string, string>, body?: string) =>
      new Promise<{ status: number; text: string; cookie: string }>((resolve, reject) => {
        const options = { host: '127.0.0.1', port: running.port, path, method, ca: secure.certificate };
        const host = `tasting.example:${running.port}`;
        const outgoing = request(
          { ...options, servername: 'tasting.example', headers: { host, ...headers } },
          (incoming) => {
            let text = '';
            incoming.on('data', (chunk) => (text += chunk));
            incoming.on('end', () =>
              resolve({
                status: incoming.statusCode ?? 0,
                text,
                cookie: incoming.headers['set-cookie']?.[0] ?? '',
              }),
            );
          },
        );
        outgoing.on('error', reject);
        outgoing.end(body);
      });
    expect(running.addresses[0]).toBe(`https://tasting.example:${running.port}`);
    const origin = `https://tasting.example:${running.port}`;
    const type = { 'content-type': 'application/json', origin };
    const entered = await call('/api/access', 'POST', type, '{"passcode":"right"}');
    expect(entered.status).toBe(200);
    expect(entered.cookie).toMatch(/; Secure/);
    const me = await call('/api/me', 'GET', { cookie: entered.cookie.split(';')[0]! });
    expect(JSON.parse(me.text)).toMatchObject({ role: 'maker', secret: true });
    expect((await call('/api/me', 'GET', { host: 'other.example' })).status).toBe(403);
    expect((await call('/api/access', 'DELETE', { origin: origin.replace('https', 'http') })).status).toBe(
      403,
    );
    await running.stop();
  });
});
