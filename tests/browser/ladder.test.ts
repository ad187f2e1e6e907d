import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { DESK, openPage, PHONE } from './program.ts';
import { setStage } from './stage.ts';

const stage = setStage();
const QUASSIA = 'Quassia wood extract, 2 % quassin by mass, in ethanol';
const addressOfLadders = () => `${stage.program.address}/#/trials/demo/ladder`;

/** The odd codes of a taster, lowest rung first, read where the pourer reads them. */
async function oddCodes(page: Page, taster: string): Promise<string[]> {
  const row = page
    .getByRole('table', { name: 'The odd cup of each three' })
    .getByRole('row')
    .filter({ has: page.getByRole('rowheader', { name: taster }) });
  await row.waitFor();
  const cells = await row.getByRole('cell').allTextContents();
  return cells.filter((text) => /^\d{3}$/.test(text));
}

test('a ladder of doses: cups drawn, answers typed with the keys alone, a limit in the brief that waits to be saved', async () => {
  const { page, context, errors } = await openPage(stage.browser, DESK);
  await page.goto(`${stage.program.address}/#/trials/demo/brief`);
  await page.getByRole('link', { name: 'Let tasters climb a ladder of doses' }).click();
  await page.getByLabel('Of what').selectOption({ label: QUASSIA });
  await page.getByLabel('Who tastes').fill('P1, P2');
  await page.getByLabel('Rungs').fill('eleven');
  await page.getByRole('button', { name: 'Draw the cups' }).click();
  await page.getByText('A whole number of rungs, 3 to 10.').waitFor();
  await page.getByLabel('Rungs').fill('4');
  await page.getByRole('button', { name: 'Draw the cups' }).click();

  await page.getByText('which cup holds it').click();
  for (const taster of ['P1', 'P2']) {
    await page.getByText(`${taster}: 0 of 4 rungs`).click();
    const odd = await oddCodes(page, taster);
    expect(odd).toHaveLength(4);
    await page.getByRole('group', { name: taster }).getByLabel('Rung 1').focus();
    for (const code of odd) {
      await page.keyboard.type(code);
      await page.keyboard.press('Enter');
    }
    await page.getByText(`${taster}: 4 of 4 rungs`).waitFor();
  }
  // Both found every rung: below the lowest, 0.5 / √2, and said to be a guess.
  await page.getByText('Noticed from about 0.354 mg in a litre of drink on.').waitFor();
  await page.getByText('their own thresholds are guesses').waitFor();

  const pressed = page.getByRole('button', { name: /^Always noticed: at least/ });
  const least = /at least ([\d.]+) of 100/.exec((await pressed.textContent())!)![1]!;
  await pressed.click();
  await page.getByText('Not saved yet').waitFor();
  await page.getByText(`${QUASSIA}: ${least} to 25 of 100`).waitFor();
  // By hand: 0.3536 mg/L · 25 mL / (4000 mg · 0.17 mL/L) of the blend, rounded up to four decimals.
  expect(Number(least)).toBeCloseTo(
    100 * (Math.ceil((1e4 * (0.5 / Math.SQRT2) * 25) / (4000 * 0.17)) / 1e4),
    9,
  );
  for (const taster of ['P1', 'P2']) await expect.poll(() => named(taster)).not.toContain(null);
  expect(errors).toEqual([]);
  await context.close();
});

/** The cups that a taster called odd, as the workbench keeps them. */
async function named(taster: string): Promise<(string | null)[]> {
  const answer = await fetch(`${stage.program.address}/api/trials/demo/ladders`);
  const [ladder] = (await answer.json()) as { trays: { taster: string; named: (string | null)[] }[] }[];
  return ladder!.trays.find((tray) => tray.taster === taster)!.named;
}

test('the answers are in the data: another browser sees them, changes one, and can take that back', async () => {
  const { page, context, errors } = await openPage(stage.browser, PHONE);
  await page.goto(addressOfLadders());
  await page.getByText('P1: 4 of 4 rungs').click();
  await page.getByText('which cup holds it').click();
  const odd = await oddCodes(page, 'P1');
  const field = page.getByRole('group', { name: 'P1' }).getByLabel('Rung 2');
  expect(await field.inputValue()).toBe(odd[1]);

  const cups = (await page.getByRole('group', { name: 'P1' }).getByText(odd[1]!).textContent())!.split(' ');
  const other = cups.find((code) => code !== odd[1])!;
  await field.fill('99');
  await field.press('Enter');
  await page.getByText('none of the three').waitFor();
  await page.getByText('P1: 3 of 4 rungs').waitFor();
  await page.getByText('P1 has not answered every rung.').waitFor();
  await field.fill(other);
  await page.getByText('P1: 4 of 4 rungs').waitFor();
  // P1 missed rung 2 and found rung 3: √(1 · 2); P2 stays at 0.5 / √2; together √(√2 · 0.3536) = 0.707.
  await page.getByText('Noticed from about 0.707 mg in a litre of drink on.').waitFor();
  await field.fill(odd[1]!);
  await page.getByText(`P1, rung 2: ${odd[1]} instead of ${other}.`).waitFor();
  await page.getByText('Noticed from about 0.354 mg').waitFor();
  await page.getByRole('button', { name: 'Undo' }).click();
  await page.getByText('Noticed from about 0.707 mg').waitFor();
  expect(await field.inputValue()).toBe(other);
  // The page tells what was typed before the workbench has it; it is closed once it has.
  await expect.poll(async () => (await named('P1'))[1]).toBe(other);
  await context.close();

  const third = await openPage(stage.browser, DESK);
  await third.page.goto(addressOfLadders());
  await third.page.getByText('Noticed from about 0.707 mg').waitFor();
  await third.page.goto(`${stage.program.address}/#/trials/demo/record`);
  await third.page.getByText('entered the answers on a ladder of doses').first().waitFor();
  expect([...errors, ...third.errors]).toEqual([]);
  await third.context.close();
});

test('another ladder loses nothing: the first is looked at again, put away, and brought back', async () => {
  const { page, context, errors } = await openPage(stage.browser, DESK);
  await page.goto(addressOfLadders());
  await page.getByRole('button', { name: 'Begin another ladder' }).click();
  await page.getByLabel('Who tastes').fill('P3');
  await page.getByRole('button', { name: 'Draw the cups' }).click();
  await page.getByText('The cups of ladder 2 are drawn.').waitFor();
  const first = page.getByRole('listitem').filter({ hasText: `Ladder 1, ${QUASSIA}` });
  await first.getByText('2 of 2 tasters answered every rung').waitFor();
  await first.getByRole('button', { name: 'Put ladder 1 away' }).click();
  await page.getByText('Ladder 1 is put away.').waitFor();
  await page.reload();
  await page.getByText('P3: 0 of 6 rungs').waitFor();
  await page.getByRole('button', { name: 'bring ladder 1 back' }).click();
  await page.getByText('P1: 4 of 4 rungs').waitFor();
  await page.getByRole('button', { name: 'Put ladder 2 away' }).click();
  await page.getByRole('button', { name: 'bring ladder 2 back' }).waitFor();
  await page.getByRole('button', { name: 'Undo' }).click();
  await page.getByText('P3: 0 of 6 rungs').waitFor();
  expect(errors).toEqual([]);
  await context.close();
});

test('an answer typed while the workbench is gone waits in the browser and is sent when it is back', async () => {
  const { page, context } = await openPage(stage.browser, DESK);
  await page.goto(addressOfLadders());
  await page.getByText('P3: 0 of 6 rungs').click();
  await page.getByText('which cup holds it').click();
  const [odd] = await oddCodes(page, 'P3');
  await stage.program.kill();
  await page.getByRole('group', { name: 'P3' }).getByLabel('Rung 1').fill(odd!);
  await page.getByText('1 answer not in the data yet').waitFor();
  await page.getByText('P3: 1 of 6 rungs').waitFor();
  await stage.program.start();
  await page.reload();
  await page.getByText('P3: 1 of 6 rungs').waitFor();
  await page.waitForFunction(() => Object.keys(localStorage).every((key) => !key.includes('ladder')));
  await context.close();
  const other = await openPage(stage.browser, DESK);
  await other.page.goto(addressOfLadders());
  await other.page.getByText('P3: 1 of 6 rungs').waitFor();
  await other.context.close();
});

test('a ladder that a browser kept from before is taken into the data once, and forgotten there', async () => {
  const { page, context, errors } = await openPage(stage.browser, DESK);
  const threes = [
    { codes: ['101', '102', '103'], odd: '102' },
    { codes: ['201', '202', '203'], odd: '203' },
    { codes: ['301', '302', '303'], odd: '301' },
  ];
  const old = {
    ...{ component: 'wood', concentrations: [1, 2, 4], trays: [{ taster: 'P5', threes }] },
    named: { P5: ['102', '203', '30'] },
  };
  await context.addInitScript((text) => {
    if (sessionStorage.getItem('laid') === null) localStorage.setItem('dropwise:ladder:demo', text);
    sessionStorage.setItem('laid', 'yes');
  }, JSON.stringify(old));
  await page.goto(addressOfLadders());
  await page
    .getByText('Ladder 3 was kept by this browser alone; it is part of the trial’s data now.')
    .waitFor();
  await page.getByText('Left out, as none of the three cups: P5, rung 3: 30.').waitFor();
  await page.getByText('P5: 2 of 3 rungs').waitFor();
  expect(
    await page.evaluate(() => Object.keys(localStorage).filter((key) => key.includes('ladder'))),
  ).toEqual([]);
  await page.reload();
  await page.getByText('P5: 2 of 3 rungs').waitFor();
  expect(await page.getByText('kept by this browser alone').count()).toBe(0);
  await page.getByRole('button', { name: 'Look at ladder 2' }).waitFor();
  expect(errors).toEqual([]);
  await context.close();
});
