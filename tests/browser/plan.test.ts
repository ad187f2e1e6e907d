import type { Page } from 'playwright-core';
import { describe, expect, test, vi } from 'vitest';
import { DESK, openPage, PHONE } from './program.ts';
import { setStage } from './stage.ts';

const stage = setStage();
const { program } = stage;

const entries = (page: Page) => page.locator('ol.mixes > li');

/** The plan that the page shows, as the server stores it. */
async function storedPlan(page: Page) {
  const reading = /reading=([\w-]+)/.exec(page.url())![1];
  const answer = await page.request.get(`${program.address}/api/trials/demo/readings/${reading}`);
  return (await answer.json()) as {
    input: { options: { pinned: { ratios: Record<string, number> }[]; forbidden: object[] } };
    result: { mixes: { ratios: Record<string, number>; pinned?: true }[] };
  };
}

async function planAnew(page: Page, button: string): Promise<void> {
  const before = page.url();
  await page.getByRole('button', { name: button }).click();
  await page.waitForFunction((url) => location.href !== url, before);
  await page.getByRole('heading', { name: 'How much do you want to know?' }).waitFor();
}

/** A word explains itself to pointer and keyboard, inside the window, and covers neither its field nor what to press next. */
async function readTheTerm(page: Page): Promise<void> {
  const word = page.getByRole('button', { name: 'Rest before tasting' });
  const tip = page.getByRole('tooltip').filter({ hasText: 'The time a mix stands' });
  // What loads above it may move it from under the pointer.
  await vi.waitFor(
    async () => {
      await page.mouse.move(0, 0);
      await word.hover();
      await tip.waitFor({ timeout: 1000 });
    },
    { timeout: 30_000 },
  );
  const [said, field, next] = await Promise.all(
    [tip, page.getByLabel('Rest before tasting'), page.getByRole('button', { name: /Make these/ })].map(
      async (one) => (await one.boundingBox())!,
    ),
  );
  const { width } = page.viewportSize()!;
  expect(said!.x).toBeGreaterThanOrEqual(0);
  expect(said!.y).toBeGreaterThanOrEqual(0);
  expect(said!.x + said!.width).toBeLessThanOrEqual(width);
  for (const other of [field!, next!]) expect(said!.y + said!.height).toBeLessThanOrEqual(other.y);
  await tip.hover();
  await page.keyboard.press('Escape');
  await tip.waitFor({ state: 'hidden' });
  await page.mouse.move(0, 0);
  await page.keyboard.press('Shift');
  await word.focus();
  await tip.waitFor();
  await tip.click();
  await tip.waitFor({ state: 'hidden' });
}

describe('the plan page', () => {
  test('the maker compares sizes, moves a mix, throws one out, sees the cost and plans the rest around it', async () => {
    const { page, errors } = await openPage(stage.browser, DESK);
    await page.goto(`${program.address}/#/trials/demo/plan`);
    await page.getByLabel('How many mixes?').fill('9');
    await planAnew(page, 'Plan the mixes');
    for (const size of ['One evening', 'Two evenings', 'In depth'])
      await page.getByRole('heading', { name: size }).waitFor();
    await page.getByText(/minutes to weigh/).waitFor();
    await page.getByRole('heading', { name: 'What may be mixed', exact: true }).waitFor();
    expect(await entries(page).count()).toBe(9);

    await entries(page).first().getByRole('button', { name: 'Move it' }).click();
    const seam = page.getByRole('slider').first();
    for (let k = 0; k < 3; k++) await seam.press('Shift+ArrowLeft');
    await page
      .getByText(/certain/)
      .last()
      .waitFor();
    await entries(page).nth(4).getByLabel('make this one').uncheck();
    const status = page.getByRole('status').filter({ hasText: 'certain' });
    expect(await status.textContent()).toMatch(/predictions would be \d+ % less certain/);
    expect(await page.getByRole('button', { name: /Make these/ }).count()).toBe(0);

    await planAnew(page, 'Plan the rest around this');
    const { input, result } = await storedPlan(page);
    expect([input.options.pinned.length, input.options.forbidden.length]).toEqual([1, 1]);
    const held = result.mixes.filter(({ pinned }) => pinned);
    expect(held).toHaveLength(1);
    for (const [id, share] of Object.entries(input.options.pinned[0]!.ratios))
      expect(held[0]!.ratios[id]!).toBeCloseTo(share, 9);
    expect(await page.getByText('stays as it is').count()).toBe(1);

    await planAnew(page, 'Plan 7 mixes');
    expect(await entries(page).count()).toBe(7);
    await page.getByText('This is the plan below.').waitFor();
    await readTheTerm(page);
    await page.getByRole('button', { name: /Make these: round 2/ }).click();
    await page.waitForFunction(() => location.hash.includes('/rounds/2/weigh'));
    expect(errors).toEqual([]);
  });

  test('a component is spared for some of the knowledge; less than the mixes need is refused', async () => {
    const { page, errors } = await openPage(stage.browser, DESK);
    await page.goto(`${program.address}/#/trials/demo/plan`);
    await page.getByText('save material').click();
    await page.getByLabel('Look for a cheaper plan').selectOption('0.05');
    await page.getByLabel('What to spare').selectOption('peel');
    await planAnew(page, 'Plan the mixes');
    await page.getByText(/g less of peel, for .* % of the knowledge/).waitFor();
    await page.getByLabel('Scarce').selectOption('peel');
    await page.getByLabel('At most in all').fill('0.001');
    await page.getByRole('button', { name: 'Plan the mixes' }).click();
    const refused = page.getByRole('alert');
    await refused
      .filter({
        hasText:
          'At most in all of Grapefruit peel oil, washed (terpene-reduced): 0.001 g will not do; at least',
      })
      .waitFor();
    expect(await refused.textContent()).not.toContain('atMost');
    expect(errors).toEqual([]);
  });

  test('fits a phone', async () => {
    const { page, errors } = await openPage(stage.browser, PHONE);
    await page.goto(`${program.address}/#/trials/demo/plan`);
    await planAnew(page, 'Plan the mixes');
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    expect(wide).toBeLessThanOrEqual(0);
    expect(errors).toEqual([]);
  });
});
