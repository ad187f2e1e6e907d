import type { Page, Route } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { openStore } from '../../trials/store/store.ts';
import { plannedTrial } from '../support/small-trial.ts';
import { contextOf } from '../support/trial-folder.ts';
import { DESK, openPage } from './program.ts';
import { setStage } from './stage.ts';

let trial = '';
const stage = setStage((program) => {
  const store = openStore(program.folder);
  trial = plannedTrial(contextOf(store));
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
async function arrived(): Promise<string[]> {
  const answer = await fetch(`${program.address}/api/trials/${trial}/rounds/1`);
  const { mixes } = (await answer.json()) as { mixes: { mix: string; weighed: object | null }[] };
  return mixes.filter(({ weighed }) => weighed !== null).map(({ mix }) => mix);
}

describe('a bottle that is whole before its weighing has arrived', () => {
  test('is not offered again in place of the next, and is sent again where it never arrived', async () => {
    const { page, errors } = await openPage(stage.browser, DESK, LOST);
    const waiting: Route[] = [];
    await page.route(WEIGHING, (route) => void waiting.push(route));
    await page.goto(`${program.address}/#/trials/${trial}/rounds/1/weigh`);
    await pour(page, 'qa1');
    await page.getByRole('link', { name: 'Weigh bottle qb2' }).press('Enter');
    await pour(page, 'qb2');
    await page.getByRole('link', { name: 'Weigh bottle qc3' }).waitFor();
    expect(waiting).toHaveLength(2);
    expect(await arrived()).toEqual([]);
    await waiting[1]!.continue();
    await expect.poll(arrived).toEqual(['qb2']);
    await waiting[0]!.abort();

    await page.unroute(WEIGHING);
    await page.getByRole('link', { name: 'Weigh bottle qc3' }).press('Enter');
    await pour(page, 'qc3');
    await page.getByRole('link', { name: 'Weigh bottle qa1' }).press('Enter');
    await page.getByRole('heading', { name: 'Bottle qa1 is whole' }).waitFor();
    await page.getByRole('link', { name: 'Let them rest' }).waitFor();
    await expect.poll(async () => (await arrived()).sort()).toEqual(['qa1', 'qb2', 'qc3']);
    expect(errors).toEqual([]);
  });
});
