import type { Page, Route } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { openStore } from '../../trials/store/store.ts';
import { plannedTrial } from '../support/small-trial.ts';
import { contextOf } from '../support/trial-folder.ts';
import { DESK, openPage } from './program.ts';
import { setStage } from './stage.ts';

let trial = '';
let another = '';
const stage = setStage((program) => {
  const store = openStore(program.folder);
  trial = plannedTrial(contextOf(store));
  another = plannedTrial(contextOf(store));
  store.close();
});
const { program } = stage;

/** What a browser says of a request that the test takes away. */
const LOST = /Failed to load resource/;
const WEIGHING = '**/mixes/*/weighing';

/** Pours what is asked for, as it is asked for. */
async function pour(page: Page, bottle: string): Promise<void> {
  for (let line = 1; line <= 3; line++) {
    await page.getByText(`${line} of 3 in bottle ${bottle}`).waitFor();
    const asked = (await page.locator('.to-show').textContent())!.replace('weigh', '');
    await page.keyboard.type(String(Number.parseFloat(asked)));
    await page.keyboard.press('Enter');
  }
  await page.getByRole('heading', { name: `Bottle ${bottle} is whole` }).waitFor();
}

/** The bottles whose weighing the workbench keeps. */
async function arrived(of = trial): Promise<string[]> {
  const answer = await fetch(`${program.address}/api/trials/${of}/rounds/1`);
  const { mixes } = (await answer.json()) as { mixes: { mix: string; weighed: object | null }[] };
  return mixes.filter(({ weighed }) => weighed !== null).map(({ mix }) => mix);
}

/** A serial port of the page's own: the browser's would ask a person to choose one. `say` puts a line on it, `pull` unplugs it. */
const PORT = `
  globalThis.opened = [];
  Object.defineProperty(navigator, 'serial', {
    value: {
      requestPort: async () => {
        let line;
        globalThis.say = (text) => line.enqueue(new TextEncoder().encode(text));
        globalThis.pull = () => line.error(new Error('unplugged'));
        return {
          readable: new ReadableStream({ start: (control) => { line = control; } }),
          open: async (options) => void opened.push(options),
          close: async () => undefined,
        };
      },
    },
  });
`;

describe('a step that is marked done', () => {
  test('leads on, but calls nobody back who has gone elsewhere meanwhile', async () => {
    const { page, errors, context } = await openPage(stage.browser, DESK);
    const held: Route[] = [];
    await page.route('**/rounds/1/steps', (route) => void held.push(route));
    const rest = `${program.address}/#/trials/${trial}/rounds/1/rest`;
    await page.goto(rest);
    await page.getByRole('button', { name: 'They have rested' }).click();
    await expect.poll(() => held.length).toBe(1);
    await page.getByRole('link', { name: 'The desk' }).click();
    await page.getByRole('heading', { name: 'The desk' }).waitFor();
    await held[0]!.continue();
    await page.getByText('They have rested: noted.').waitFor();
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(() => held.length).toBe(2);
    await held[1]!.continue();
    expect(page.url()).toContain('/desk');
    await page.goto(rest);
    await page.getByRole('button', { name: 'They have rested' }).click();
    await expect.poll(() => held.length).toBe(3);
    await held[2]!.continue();
    await page.getByRole('heading', { name: 'Round 1: dose' }).waitFor();
    expect(errors).toEqual([]);
    await context.close();
  });
});

describe('a balance on a cable', () => {
  test('fills the field with what has settled, and its silence is told at whatever field', async () => {
    const { page, errors } = await openPage(stage.browser, DESK);
    await page.addInitScript(PORT);
    await page.goto(`${program.address}/#/trials/${trial}/rounds/1/weigh`);
    await page.getByText('Read the balance by cable').click();
    await page.getByLabel('Its speed, bits a second').selectOption('2400');
    await page.getByLabel('How it sends each sign').selectOption('7 even');
    await page.getByRole('button', { name: 'Connect' }).click();
    await page.getByText(/^The balance is read/).waitFor();
    expect(await page.evaluate('opened')).toEqual([{ baudRate: 2400, dataBits: 7, parity: 'even' }]);

    const field = page.getByLabel('What the balance shows');
    const say = (text: string) => page.evaluate(`say(${JSON.stringify(text)})`);
    await say('US,NT,+  1.20 g\r\nUS,NT,+  1.97 g\r\nST,NT,+  2.0');
    expect(await field.inputValue()).toBe('');
    await say('0 g\r\nST,NT,+  2.00 g\r\nST,NT,+  2.00 g\r\n');
    await expect.poll(() => field.inputValue()).toBe('2.00');
    await field.press('Enter');
    await page.getByText('2 of 3 in bottle').waitFor();
    expect(await field.inputValue()).toBe('');
    await say('ST,NT,+  3.00 g\r\n'.repeat(3));
    await expect.poll(() => field.inputValue()).toBe('3.00');
    await page.evaluate('pull()');
    await page.getByText('The balance is silent: connect it again, or type.').waitFor();
    await page.evaluate(() => localStorage.clear());
    expect(errors).toEqual([]);
    await page.context().close();
  });
});

describe('a bottle that is whole before its weighing has arrived', () => {
  test('is not offered again in place of the next; what failed on the way goes again by itself', async () => {
    const { page, errors } = await openPage(stage.browser, DESK, LOST);
    const waiting: Route[] = [];
    await page.route(WEIGHING, (route) => void waiting.push(route));
    await page.goto(`${program.address}/#/trials/${trial}/rounds/1/weigh`);
    await pour(page, 'qa1');
    await page.getByRole('link', { name: 'Weigh bottle qb2' }).press('Enter');
    await pour(page, 'qb2');
    await page.getByRole('link', { name: 'Weigh bottle qc3' }).press('Enter');
    await pour(page, 'qc3');
    await page.getByRole('link', { name: 'Let them rest' }).waitFor();
    expect(waiting).toHaveLength(1);
    expect(await arrived()).toEqual([]);
    await waiting[0]!.abort();
    await page.getByText('What was weighed of qa1 did not arrive.').waitFor();
    await expect.poll(() => waiting.length).toBe(2);
    await page.unroute(WEIGHING);
    await expect.poll(() => arrived()).toEqual(['qa1', 'qb2', 'qc3']);
    await expect.poll(() => page.getByText('did not arrive').count()).toBe(0);
    expect(errors).toEqual([]);
    await page.context().close();
  });

  test('goes again when the page is opened anew', async () => {
    const { page, errors } = await openPage(stage.browser, DESK, LOST);
    const address = `${program.address}/#/trials/${another}/rounds/1/weigh`;
    await page.route(WEIGHING, (route) => route.abort());
    await page.goto(address);
    await pour(page, 'qa1');
    await page.getByRole('alert').waitFor();
    expect(await arrived(another)).toEqual([]);
    await page.unroute(WEIGHING);
    await page.goto('about:blank');
    await page.goto(address);
    await expect.poll(() => arrived(another)).toEqual(['qa1']);
    await page.getByText('2 of 3 bottles to weigh.').waitFor();
    expect(errors).toEqual([]);
  });
});
