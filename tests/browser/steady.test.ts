import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { DESK, openPage, PHONE } from './program.ts';
import { setStage } from './stage.ts';

const stage = setStage();
const { program } = stage;

/** Up to here the sum of layout shifts counts as good (web.dev, Cumulative Layout Shift). */
const GOOD = 0.1;

/** Sums how far what is seen moves without a hand, as the browser tells it (Layout Instability, a W3C draft). */
const WATCH = `
  globalThis.moved = 0;
  new PerformanceObserver((list) => {
    for (const { value, hadRecentInput } of list.getEntries()) if (!hadRecentInput) moved += value;
  }).observe({ type: 'layout-shift', buffered: true });
`;

const PAGES = [
  '',
  'brief',
  'desk',
  'record',
  ...['weigh', 'taste', 'read'].map((step) => `rounds/1/${step}`),
];

describe.each([
  ['desk', DESK],
  ['phone', PHONE],
] as const)('on a %s nothing moves from under a hand while a page loads', (_, viewport) => {
  let opened: Awaited<ReturnType<typeof openPage>>;
  beforeAll(async () => {
    opened = await openPage(stage.browser, viewport);
    await opened.page.addInitScript(WATCH);
  });
  afterAll(() => opened.context.close());
  const moved = () => opened.page.evaluate<number>('moved');

  test.each(PAGES)('#/trials/demo/%s', async (path) => {
    const { page, errors } = opened;
    await page.goto('about:blank');
    await page.goto(`${program.address}/#/trials/demo/${path}`);
    await page.locator('.spine li').first().waitFor({ state: 'attached' });
    await page.waitForLoadState('networkidle');
    expect(await page.getByText(/^Fetching /).count()).toBe(0);
    expect(await moved()).toBeLessThan(GOOD);
    expect(errors).toEqual([]);
  });

  test('and what moves is seen', async () => {
    await opened.page.evaluate(() => {
      const wedge = document.createElement('div');
      wedge.style.height = '60vh';
      document.body.prepend(wedge);
    });
    await expect.poll(moved).toBeGreaterThan(GOOD);
  });
});
