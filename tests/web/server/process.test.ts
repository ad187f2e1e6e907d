import { existsSync } from 'node:fs';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { readOptions, UsageError } from '../../../web/server/options.ts';
import { killWhileAnswering } from '../../support/kill-rounds.ts';
import { startProcess } from '../../support/start-process.ts';
import { freshFolder } from '../../support/trial-folder.ts';

describe('the workbench as a process', () => {
  test('makes its data, loads the demo once, stops when asked and comes back with the same', async () => {
    const folder = join(freshFolder(), 'new');
    const first = await startProcess(['--port', '0'], { DROPWISE_DATA: folder });
    const list = () => async (base: string) => (await fetch(`${base}/api/trials`)).json();
    const before = await list()(first.base);
    expect(before).toMatchObject([{ trial: 'demo', demo: true, rounds: 1 }]);
    expect(existsSync(join(folder, 'dropwise.sqlite'))).toBe(true);
    await expect(startProcess(['--port', '0', '--data', folder])).rejects.toThrow(/another Dropwise has/);
    first.child.kill('SIGTERM');
    expect(await first.ended).toBe(0);
    expect(existsSync(join(folder, 'dropwise.sqlite-wal'))).toBe(false);
    const second = await startProcess(['--port', '0', '--data', folder]);
    expect(await list()(second.base)).toEqual(before);
    second.child.kill('SIGINT');
    expect(await second.ended).toBe(0);
  });

  test('says so when its port is taken and takes the next', async () => {
    const blocker = createServer();
    const port = await new Promise<number>((resolve) =>
      blocker.listen(0, '127.0.0.1', () => resolve((blocker.address() as { port: number }).port)),
    );
    const started = await startProcess(['--port', String(port), '--data', freshFolder()]);
    expect(started.lines.join('\n')).toContain(`port ${port} is taken, trying ${port + 1}`);
    expect(Number(new URL(started.base).port)).toBeGreaterThan(port);
    started.child.kill('SIGTERM');
    await started.ended;
    blocker.close();
  });

  test('shared, asks for the passcode it printed once', async () => {
    const folder = freshFolder();
    const started = await startProcess(['--port', '0', '--share', '--data', folder]);
    const passcode = /passcode (\S+) /.exec(started.lines.join('\n'))![1]!;
    const base = `http://127.0.0.1:${new URL(started.base).port}`;
    expect((await fetch(`${base}/api/trials`)).status).toBe(403);
    const enter = (code: string) =>
      fetch(`${base}/api/access`, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({ passcode: code }),
      });
    expect((await enter('wrong')).status).toBe(403);
    const cookie = (await enter(passcode)).headers.get('set-cookie')!.split(';')[0]!;
    expect((await fetch(`${base}/api/trials`, { headers: { cookie } })).status).toBe(200);
    expect(started.lines.join('\n')).toContain('can be read on this network');
    started.child.kill('SIGTERM');
    await started.ended;
  });

  test('killed without warning while answers are written, has every acknowledged one', async () => {
    const moments = [
      { answers: 0, pause: 3 },
      { answers: 10, pause: 0 },
      { answers: 30, pause: 1 },
      { answers: 5, pause: 7 },
    ];
    const { kills, acknowledged } = await killWhileAnswering(moments);
    expect(kills).toBe(4);
    expect(acknowledged).toBeGreaterThanOrEqual(45);
  });
});

describe('the command line', () => {
  test('is read as it is meant', () => {
    expect(readOptions([])).toEqual({
      port: 4321,
      data: undefined,
      share: false,
      certificate: undefined,
      key: undefined,
      newPasscode: false,
      help: false,
    });
    expect(readOptions(['--port', '80', '--share', '--data', 'x'])).toMatchObject({
      port: 80,
      share: true,
      data: 'x',
    });
  });

  test.each([['--port', 'x'], ['--port', '70000'], ['--certificate', 'c'], ['--nonsense'], ['word']])(
    'refuses %s %s in words',
    (...args) => {
      expect(() => readOptions(args.filter((arg) => arg !== undefined))).toThrow(UsageError);
    },
  );
});
