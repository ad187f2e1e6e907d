import { randomBytes } from 'node:crypto';
import { setTimeout as wait } from 'node:timers/promises';
import { expect } from 'vitest';
import { openSitting } from '../../trials/rounds/sitting-life.ts';
import { openStore } from '../../trials/store/store.ts';
import { drawnTrial } from './small-trial.ts';
import { startProcess } from './start-process.ts';
import { contextOf, folderWithData } from './trial-folder.ts';

/** What a run of kills came to. */
export interface KillTally {
  kills: number;
  acknowledged: number;
}

/** When a kill strikes: so many answers acknowledged since the start, and then a pause, in milliseconds. */
export interface KillMoment {
  answers: number;
  pause: number;
}

/**
 * Kills the workbench without warning while two phones send answers, again and again on the same data, and after
 * each restart looks for every answer that was acknowledged.
 * A kill waits for answers, not for a clock alone, so that a slow machine is put to the same test.
 */
export async function killWhileAnswering(moments: readonly KillMoment[]): Promise<KillTally> {
  const folder = folderWithData();
  const store = openStore(folder);
  const drawn = drawnTrial(contextOf(store));
  openSitting(contextOf(store), drawn);
  const phones = drawn.tokens.map(({ assessor, token }) => ({
    token,
    codes: store.sittings.cupsOf({ ...drawn, assessor }).map(({ code }) => code),
  }));
  store.close();
  const acknowledged: string[] = [];
  for (const { answers, pause } of moments) {
    const before = acknowledged.length;
    const started = await startProcess(['--data', folder, '--port', '0']);
    const sending = phones.map((phone) => sendUntilGone(started.base, phone, acknowledged));
    while (acknowledged.length < before + answers) await wait(1);
    await wait(pause);
    started.child.kill('SIGKILL');
    await Promise.all(sending);
    await started.ended;
    checkAll(folder, drawn, acknowledged);
  }
  return { kills: moments.length, acknowledged: acknowledged.length };
}

async function sendUntilGone(
  base: string,
  { token, codes }: { token: string; codes: string[] },
  acknowledged: string[],
): Promise<void> {
  const phone = randomBytes(16).toString('hex');
  for (let count = 1; ; count++) {
    const answers = codes.slice(0, 2).map((code) => ({
      id: randomBytes(16).toString('hex'),
      code,
      question: 'bitter',
      value: count % 100,
      phone,
      count,
    }));
    try {
      const response = await fetch(`${base}/api/ballot/answers`, {
        method: 'POST',
        headers: { 'content-type': 'application/json', 'x-dropwise-ballot': token },
        body: JSON.stringify({ answers }),
      });
      if (response.status === 429) {
        await wait(20);
        continue;
      }
      const { stored } = (await response.json()) as { stored: string[] };
      acknowledged.push(...stored);
    } catch {
      return;
    }
  }
}

function checkAll(
  folder: string,
  { trial, sitting, tokens }: { trial: string; sitting: string; tokens: { assessor: string }[] },
  acknowledged: readonly string[],
): void {
  const store = openStore(folder);
  const held = new Set(
    tokens.flatMap(({ assessor }) =>
      store.answers.messages({ trial, sitting, assessor }).map(({ message }) => message),
    ),
  );
  const lost = acknowledged.filter((id) => !held.has(id));
  const integrity = store.pragma('integrity_check');
  store.close();
  expect(lost).toEqual([]);
  expect(integrity).toBe('ok');
}
