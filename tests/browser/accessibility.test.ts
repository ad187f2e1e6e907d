import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { StepName } from '../../trials/schema/api.ts';
import { LESSONS, SHEETS, TRIAL_PAGES } from '../../web/workbench/routes.ts';
import { DESK, openPage, PHONE } from './program.ts';
import { setStage } from './stage.ts';

const stage = setStage();
const { program } = stage;

/** Every address of `routes.ts`, and some that lead nowhere. */
const PAGES = [
  ...['', 'new', 'copies', 'old', 'shelf', 'shelf/nothing', 'pour/nobody', 'trials/nobody', 'nowhere'],
  ...['', ...LESSONS].map((lesson) => `teaching/${lesson}`),
  ...TRIAL_PAGES.map((at) => `trials/demo/${at === 'story' ? '' : at}`),
  ...StepName.options.map((step) => `trials/demo/rounds/1/${step}`),
  ...SHEETS.map((sheet) => `trials/demo/print/${sheet}?sitting=s1`),
  ...['weighing', 'labels', 'card'].map((sheet) => `trials/demo/print/${sheet}?round=1`),
].map((address) => `/#/${address}`);

/** All that the checker finds in the light; then, on the same page, what differs in the dark: the colours. */
async function violations(page: Page): Promise<string[]> {
  const light = await new AxeBuilder({ page }).analyze();
  await page.emulateMedia({ colorScheme: 'dark' });
  const dark = await new AxeBuilder({ page }).withRules(['color-contrast']).analyze();
  await page.emulateMedia({ colorScheme: 'light' });
  return [...light.violations, ...dark.violations].map(
    ({ id, nodes }) => `${id}: ${nodes.map((n) => n.target.join(' ')).join(', ')}`,
  );
}

describe('in the light and in the dark the accessibility checker finds nothing', () => {
  let opened: Awaited<ReturnType<typeof openPage>>;
  beforeAll(async () => {
    opened = await openPage(stage.browser, DESK);
    await opened.page.emulateMedia({ colorScheme: 'light' });
  });
  afterAll(() => opened.context.close());

  test.each(PAGES)('on %s', async (path) => {
    const { page } = opened;
    // Loaded anew: within one load the heading of the page before could be taken for that of this one.
    await page.goto('about:blank');
    await page.goto(program.address + path);
    const there = page.locator('h1').first();
    await there.waitFor();
    // A page whose code is still on its way has no heading yet.
    await expect.poll(() => page.getByText(/^Fetching /).count(), { timeout: 20_000 }).toBe(0);
    await there.waitFor();
    expect(await violations(page)).toEqual([]);
  });

  test('on a ballot: before the first cup and with a cup in hand', async () => {
    const { page, context } = await openPage(stage.browser, PHONE);
    await page.goto(await ballotLink());
    await page.getByRole('button', { name: 'I may taste' }).waitFor();
    expect(await violations(page)).toEqual([]);
    await page.getByRole('button', { name: 'I may taste' }).click();
    await page.getByRole('button', { name: /^I have cup/ }).click();
    expect(await violations(page)).toEqual([]);
    await page.getByRole('slider').first().click();
    expect(await violations(page)).toEqual([]);
    await context.close();
  });
});

/** A link of a sitting that is drawn from the demo's mixes and opened for this test. */
async function ballotLink(): Promise<string> {
  const post = async (path: string, body: unknown) => {
    const headers = { 'content-type': 'application/json' };
    const answer = await fetch(program.address + path, {
      method: 'POST',
      headers,
      body: JSON.stringify(body),
    });
    expect(answer.status).toBe(200);
    return (await answer.json()) as { sitting: string; links: { address: string }[] };
  };
  const drawn = await post('/api/trials/demo/rounds/1/sittings', {
    label: 'looked at',
    assessors: ['P1'],
    mixes: ['m1', 'm2'],
  });
  await post(`/api/trials/demo/sittings/${drawn.sitting}/opening`, {});
  return drawn.links[0]!.address;
}
