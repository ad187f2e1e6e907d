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
  ...SHEETS.flatMap((sheet) => [
    `trials/demo/print/${sheet}?round=1`,
    `trials/demo/print/${sheet}?sitting=s1`,
  ]),
].map((address) => `/#/${address}`);

/** Sheets are paper: they have no dark side. */
const SCREENS = PAGES.filter((address) => !address.includes('/print/'));

/** Everything in the light; in the dark what differs there: the colours. */
const LOOKED_AT = { light: null, dark: ['color-contrast'] } as const;

async function violations(page: Page, theme: keyof typeof LOOKED_AT): Promise<string[]> {
  const rules = LOOKED_AT[theme];
  const axe = new AxeBuilder({ page });
  const { violations: found } = await (rules === null ? axe : axe.withRules([...rules])).analyze();
  return found.map(({ id, nodes }) => `${id}: ${nodes.map((n) => n.target.join(' ')).join(', ')}`);
}

describe.each(['light', 'dark'] as const)(
  'in the %s theme the accessibility checker finds nothing',
  (theme) => {
    let opened: Awaited<ReturnType<typeof openPage>>;
    beforeAll(async () => {
      opened = await openPage(stage.browser, DESK);
      await opened.page.emulateMedia({ colorScheme: theme });
    });
    afterAll(() => opened.context.close());

    test.each(theme === 'light' ? PAGES : SCREENS)('on %s', async (path) => {
      const { page } = opened;
      // Loaded anew: within one load the heading of the page before could be taken for that of this one.
      await page.goto('about:blank');
      await page.goto(program.address + path);
      const there = page.locator('h1').first();
      await there.waitFor();
      // A page whose code is still on its way has no heading yet.
      await expect.poll(() => page.getByText(/^Fetching /).count(), { timeout: 20_000 }).toBe(0);
      await there.waitFor();
      expect(await violations(page, theme)).toEqual([]);
    });

    test('on a ballot: before the first cup and with a cup in hand', async () => {
      const { page, context } = await openPage(stage.browser, PHONE);
      await page.emulateMedia({ colorScheme: theme });
      await page.goto(await ballotLink(theme));
      await page.getByRole('button', { name: 'I may taste' }).waitFor();
      expect(await violations(page, theme)).toEqual([]);
      await page.getByRole('button', { name: 'I may taste' }).click();
      await page.getByRole('button', { name: /^I have cup/ }).click();
      expect(await violations(page, theme)).toEqual([]);
      await page.getByRole('slider').first().click();
      expect(await violations(page, theme)).toEqual([]);
      await context.close();
    });
  },
);

/** A link of a sitting that is drawn from the demo's mixes and opened for this test. */
async function ballotLink(label: string): Promise<string> {
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
    label,
    assessors: ['P1'],
    mixes: ['m1', 'm2'],
  });
  await post(`/api/trials/demo/sittings/${drawn.sitting}/opening`, {});
  return drawn.links[0]!.address;
}
