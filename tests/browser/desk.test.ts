import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { DESK, openPage } from './program.ts';
import { setStage } from './stage.ts';

const stage = setStage();
const { program } = stage;

const parts = async (page: Page) =>
  (await page.locator('.desk-bar .share .number').allTextContents()).map(Number);

describe('the desk', () => {
  test('holds what is locked, shows drops, and lays pinned ratios beside each other', async () => {
    const { page, errors, context } = await openPage(stage.browser, DESK);
    await page.goto(`${program.address}/#/trials/demo/desk`);
    const seams = page.getByRole('slider', { name: /^Seam/ });
    await seams.first().waitFor();
    const first = await parts(page);
    await page.getByRole('button', { name: 'Pin this ratio' }).click();

    await page.locator('.desk-bar .share').nth(1).click();
    await page.getByText('locked', { exact: true }).waitFor();
    await seams.nth(1).focus();
    for (let k = 0; k < 3; k++) await page.keyboard.press('Shift+ArrowLeft');
    const moved = await parts(page);
    expect(moved[1]).toBe(first[1]);
    expect(moved).not.toEqual(first);
    expect(moved.reduce((sum, part) => sum + part, 0)).toBeCloseTo(100, 0);

    await page.getByRole('button', { name: 'Pin this ratio' }).click();
    const masses = page.getByRole('table', { name: 'What is on the desk' });
    await masses.getByRole('columnheader', { name: 'A, parts' }).waitFor();
    const row = await masses.getByRole('row').nth(1).getByRole('cell').allTextContents();
    expect(row.slice(-2).map(Number)).toEqual([first[0], moved[0]]);

    await page.getByLabel('Twenty drops of yours weigh').fill('0.5');
    const [, grams, drops] = await masses.getByRole('row').nth(1).getByRole('cell').allTextContents();
    expect(Number(drops)).toBe(Math.round(Number(grams) / 0.025));

    await page.getByRole('button', { name: 'Back to A' }).click();
    expect(await parts(page)).toEqual(first);
    expect(errors).toEqual([]);
    await context.close();
  });
});

describe('the keyboard', () => {
  test('is told on the page, and its keys do what is told', async () => {
    const { page, errors, context } = await openPage(stage.browser, DESK);
    const { brief } = (await (await fetch(`${program.address}/api/trials/demo`)).json()) as { brief: object };
    const made = await fetch(`${program.address}/api/trials`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ ...brief, name: 'A second trial' }),
    });
    expect(made.ok).toBe(true);
    await page.goto(program.address);
    await page.getByRole('searchbox').waitFor();
    await page.keyboard.press('/');
    await expect.poll(() => page.evaluate(() => document.activeElement?.getAttribute('type'))).toBe('search');
    await page.locator('h1').click();
    await page.keyboard.press('?');
    const list = page.getByRole('dialog');
    await list.getByText('undo what was just done').waitFor();
    await page.keyboard.press('Escape');
    await list.waitFor({ state: 'hidden' });
    expect(errors).toEqual([]);
    await context.close();
  });
});

describe('a brief that is not saved yet', () => {
  test('is kept while it is typed, and there again after the page is closed', async () => {
    const { page, errors, context } = await openPage(stage.browser, DESK);
    const address = `${program.address}/#/trials/demo/brief`;
    await page.goto(address);
    await page.getByLabel('Name of the trial').fill('Half a thought');
    await expect
      .poll(() => page.evaluate(() => Object.values(localStorage).some((t) => t.includes('Half a thought'))))
      .toBe(true);
    await page.close();
    const again = await context.newPage();
    await again.goto(address);
    await again.getByLabel('Name of the trial').waitFor();
    expect(await again.getByLabel('Name of the trial').inputValue()).toBe('Half a thought');
    expect(errors).toEqual([]);
    await context.close();
  });
});
