import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { brotliCompressSync, gzipSync } from 'node:zlib';
import { beforeAll, describe, expect, it } from 'vitest';
import { freshFolder } from '../../support/trial-folder.ts';
import { openWorkbench } from '../../support/workbench.ts';

const SCRIPT = `export const words = '${'sour '.repeat(400)}';`;
let base = '';

beforeAll(async () => {
  const pages = freshFolder();
  mkdirSync(join(pages, 'assets'));
  writeFileSync(join(pages, 'index.html'), '<!doctype html>');
  writeFileSync(join(pages, 'assets/page-1.js'), SCRIPT);
  writeFileSync(join(pages, 'assets/page-1.js.br'), brotliCompressSync(SCRIPT));
  writeFileSync(join(pages, 'assets/page-1.js.gz'), gzipSync(SCRIPT));
  writeFileSync(join(pages, 'assets/alone-2.js'), SCRIPT);
  writeFileSync(join(pages, 'secret.js.br'), 'not for anybody');
  ({ base } = await openWorkbench({ demo: false, pages }));
});

const get = (path: string, encodings: string, method = 'GET') =>
  fetch(`${base}${path}`, { method, headers: { 'accept-encoding': encodings } });

describe('scripts of the pages', () => {
  it.each([
    ['br', 'gzip, deflate, br', 'br'],
    ['gzip', 'gzip, deflate', 'gzip'],
    ['nothing', 'identity', null],
  ])('come compressed with %s to whom takes %s', async (_, takes, encoding) => {
    const reply = await get('/assets/page-1.js', takes);
    expect(reply.status).toBe(200);
    expect(reply.headers.get('content-encoding')).toBe(encoding);
    expect(reply.headers.get('content-type')).toBe('text/javascript; charset=utf-8');
    expect(reply.headers.get('cache-control')).toBe('public, max-age=31536000, immutable');
    expect(reply.headers.get('vary')?.toLowerCase()).toContain('accept-encoding');
    expect(await reply.text()).toBe(SCRIPT);
  });

  it('without a compressed copy come all the same', async () => {
    const reply = await get('/assets/alone-2.js', 'br');
    expect(reply.status).toBe(200);
    expect(await reply.text()).toBe(SCRIPT);
  });

  it('are told of without being sent', async () => {
    const reply = await get('/assets/page-1.js', 'br', 'HEAD');
    expect(reply.headers.get('content-encoding')).toBe('br');
    expect(await reply.text()).toBe('');
  });

  it('lie nowhere but among the pages', async () => {
    for (const path of ['/assets/..%2fsecret.js', '/assets/%2e%2e/secret.js', '/assets/none-3.js'])
      expect((await get(path, 'br')).status, path).toBe(404);
  });
});
