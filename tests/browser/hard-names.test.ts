import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import type { Job } from '../../trials/schema/api.ts';
import { StepName } from '../../trials/schema/api.ts';
import { openStore } from '../../trials/store/store.ts';
import { SHEETS, TRIAL_PAGES } from '../../web/workbench/routes.ts';
import { hardTrial } from '../support/hard-names.ts';
import { openPage, PHONE } from './program.ts';
import { setStage } from './stage.ts';

let hard = { trial: '', sitting: '', token: '' };
const stage = setStage((program) => {
  const store = openStore(program.folder);
  hard = hardTrial({ store, who: 'maker', now: () => new Date() });
  store.close();
});

test('names as long as they may be push no page sideways on a phone, folds opened or closed', async () => {
  await readScores();
  const { page, errors } = await openPage(stage.browser, PHONE);
  const pages = [
    ...['', 'shelf', 'shelf/b1'],
    ...TRIAL_PAGES.map((at) => `trials/${hard.trial}/${at === 'story' ? '' : at}`),
    ...StepName.options.map((step) => `trials/${hard.trial}/rounds/1/${step}`),
    ...SHEETS.map((sheet) => `trials/${hard.trial}/print/${sheet}?round=1&sitting=${hard.sitting}`),
  ].map((address) => `/#/${address}`);
  for (const path of pages) {
    // Loaded anew: within one load the heading of the page before could be taken for that of this one.
    await page.goto('about:blank');
    await page.goto(stage.program.address + path);
    await page.locator('h1').first().waitFor();
    await expect.poll(() => page.getByText(/^Fetching /).count(), { timeout: 20_000 }).toBe(0);
    expect.soft(await beyondTheEdge(page), path).toBe(0);
    await unfoldAll(page);
    expect.soft(await beyondTheEdge(page), `${path}, unfolded`).toBe(0);
  }
  await page.goto(`${stage.program.address}/ballot.html#${hard.token}`);
  for (const press of ['I may taste', /^I have cup/]) {
    const button = page.getByRole('button', { name: press });
    await button.waitFor();
    expect.soft(await beyondTheEdge(page), `ballot, before ${press}`).toBe(0);
    await button.click();
  }
  await page.getByText('旨味の強さ').waitFor();
  expect.soft(await beyondTheEdge(page), 'ballot, with a cup in hand').toBe(0);
  expect(errors).toEqual([]);
});

/** Pixels by which the page is wider than its window. */
function beyondTheEdge(page: Page): Promise<number> {
  return page.evaluate(() => Math.max(0, document.documentElement.scrollWidth - innerWidth));
}

function unfoldAll(page: Page): Promise<void> {
  return page.evaluate(() => {
    for (const fold of document.querySelectorAll('details')) fold.open = true;
    return new Promise((drawn) => requestAnimationFrame(() => drawn()));
  });
}

async function readScores(): Promise<void> {
  const ask = async (path: string, init: RequestInit = {}) =>
    (await fetch(`${stage.program.address}${path}`, init)).json() as Promise<Job>;
  const headers = { 'content-type': 'application/json' };
  let job = await ask(`/api/trials/${hard.trial}/readings`, { method: 'POST', headers, body: '{}' });
  while (job.state === 'running') {
    await new Promise((resolve) => setTimeout(resolve, 50));
    job = await ask(`/api/jobs/${job.job}`);
  }
  expect(job.state).toBe('done');
}
