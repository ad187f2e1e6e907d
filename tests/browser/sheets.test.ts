import { describe, expect, test } from 'vitest';
import { DESK, openPage } from './program.ts';
import { setStage } from './stage.ts';

const stage = setStage();
const { program } = stage;

/** Millimetres of a CSS pixel, by definition of the unit. */
const MILLIMETRES = 25.4 / 96;

describe('sheets of the demo', () => {
  test('print: lines of 100 mm, every taster from a page of their own, nothing of the workbench on paper', async () => {
    const { page, errors } = await openPage(stage.browser, DESK);
    const print = async (sheet: string) => {
      await page.goto(`${program.address}/#/trials/demo/print/${sheet}`);
      await page.locator('.paper').first().waitFor();
      await page.emulateMedia({ media: 'print' });
      expect(await page.getByRole('button', { name: 'Print' }).count(), sheet).toBe(0);
      const pdf = (await page.pdf({ format: 'A4' })).toString('latin1');
      await page.emulateMedia({ media: null });
      return [...pdf.matchAll(/\/Type\s*\/Page\b/g)].length;
    };

    const ballots = await print('ballots?sitting=s1');
    const tasters = await page.locator('.paper').count();
    expect(tasters).toBe(6);
    expect(ballots % tasters).toBe(0);
    const lines = await page
      .locator('.mark-line')
      .evaluateAll((all) => all.map((line) => line.getBoundingClientRect().width));
    expect(lines).toHaveLength(6 * 4 * 6);
    // Layout works in sixty-fourths of a pixel: 0.004 mm.
    for (const width of lines) expect(Math.abs(width * MILLIMETRES - 100)).toBeLessThan(0.01);

    // The key has a page of its own behind the pouring sheet.
    expect(await print('pouring?sitting=s1')).toBe(2);
    expect(await print('key?sitting=s1')).toBe(1);
    expect(await print('labels?sitting=s1')).toBe(1);
    expect(await print('labels?round=1')).toBe(1);
    expect(await print('weighing?round=1')).toBeGreaterThan(1);
    expect(errors).toEqual([]);
  });

  test('the card prints on one page, with a code that opens it', async () => {
    const ask = async (path: string, body?: object) => {
      const post = { method: 'POST', headers: { 'content-type': 'application/json' } };
      const answer = await fetch(`${program.address}/api${path}`, {
        ...(body ? { ...post, body: JSON.stringify(body) } : {}),
      });
      expect(answer.status, path).toBe(200);
      return answer.json();
    };
    const { job } = await ask('/trials/demo/next', { count: 1 });
    await expect.poll(async () => (await ask(`/jobs/${job}`)).state, { timeout: 120_000 }).toBe('done');
    const { reading } = await ask(`/jobs/${job}`);
    await ask('/trials/demo/cards', { reading });
    const { address } = await ask('/trials/demo/cards', { reading, note: 'The second, as the first.' }).then(
      (first) => first as { address: string },
    );
    const { page, errors } = await openPage(stage.browser, DESK);
    await page.goto(address);
    await page.getByRole('img', { name: 'Code that opens this card' }).waitFor();
    for (const part of [
      'version 2',
      'Not checked:',
      'Quassin',
      'cashew',
      'not proved blind',
      'nothing differs',
    ])
      expect(await page.locator('.paper').textContent()).toContain(part);
    await page.emulateMedia({ media: 'print' });
    const pdf = (await page.pdf({ format: 'A4' })).toString('latin1');
    expect([...pdf.matchAll(/\/Type\s*\/Page\b/g)]).toHaveLength(1);
    expect(errors).toEqual([]);
  });
});
