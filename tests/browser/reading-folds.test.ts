import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import type { Job, TrialView } from '../../trials/schema/api.ts';
import { DESK, openPage } from './program.ts';
import { setStage } from './stage.ts';

const stage = setStage();

/** What is folded away on a reading, and how its chart's sentence begins. */
const FOLDS: readonly [string, RegExp][] = [
  ['every question as one component grows', /^From [\d.]+ to [\d.]+ parts of a hundred of \w+, /],
  ['which mixes taste alike, on a map', /^Most alike lie \w+ and \w+, least alike \w+ and \w+\. /],
  ['where the models miss', /The largest miss is \w+ on [^:]+: [+−][\d.]+ points/],
  ['which mixes the models rest on', /^Most rests on \w+: it moves the model there by [+−][\d.]+ points/],
];

test('each fold of a reading holds a chart with its sentence and its numbers', async () => {
  await readDemo();
  const { page, errors } = await openPage(stage.browser, DESK);
  await page.goto(`${stage.program.address}/#/trials/demo/rounds/1/read`);
  for (const [fold, says] of FOLDS) {
    const chart = await unfolded(page, fold);
    expect((await chart.locator('.summary').textContent())?.trim(), fold).toMatch(says);
    await chart.locator('.drawing svg').waitFor({ state: 'attached' });
    await chart.getByText('the numbers, and files to keep').click();
    await chart.locator('tbody tr').first().waitFor({ state: 'attached' });
    expect(await chart.locator('tbody tr').count(), fold).toBeGreaterThan(5);
  }
  const trial = await ask<TrialView>('/api/trials/demo');
  const weighed = trial.roundViews[0]!.mixes.filter((mix) => mix.weighed !== null).length;
  const influence = page.locator('.chart', { hasText: 'moves where a mix is left out' });
  expect(await influence.locator('tbody tr').count()).toBe(weighed);
  expect(await influence.locator('thead').textContent()).toContain('Cook’s distance');
  expect(errors).toEqual([]);
});

async function unfolded(page: Page, says: string) {
  const fold = page.locator('details', { has: page.locator(`:scope > summary:text-is("${says}")`) });
  await fold.locator('> summary').click();
  const chart = fold.locator('.chart').first();
  await chart.scrollIntoViewIfNeeded();
  return chart;
}

async function ask<T>(path: string, init: RequestInit = {}): Promise<T> {
  return (await fetch(`${stage.program.address}${path}`, init)).json() as Promise<T>;
}

async function readDemo(): Promise<void> {
  const headers = { 'content-type': 'application/json' };
  let job = await ask<Job>('/api/trials/demo/readings', { method: 'POST', headers, body: '{}' });
  while (job.state === 'running') {
    await new Promise((resolve) => setTimeout(resolve, 50));
    job = await ask<Job>(`/api/jobs/${job.job}`);
  }
  expect(job.state).toBe('done');
}
