import { expect, test } from 'vitest';
import { DESK, openPage } from './program.ts';
import { setStage } from './stage.ts';

const stage = setStage();

test('a ladder of doses: cups drawn, answers typed with the keys alone, a limit in the brief that waits to be saved', async () => {
  const { page, context, errors } = await openPage(stage.browser, DESK);
  await page.goto(`${stage.program.address}/#/trials/demo/brief`);
  await page.getByRole('link', { name: 'Let tasters climb a ladder of doses' }).click();
  await page
    .getByLabel('Of what')
    .selectOption({ label: 'Quassia wood extract, 2 % quassin by mass, in ethanol' });
  await page.getByLabel('Who tastes').fill('P1, P2');
  await page.getByLabel('Rungs').fill('eleven');
  await page.getByRole('button', { name: 'Draw the cups' }).click();
  await page.getByText('A whole number of rungs, 3 to 10.').waitFor();
  await page.getByLabel('Rungs').fill('4');
  await page.getByRole('button', { name: 'Draw the cups' }).click();

  await page.getByText('which cup holds it').click();
  const rows = page.getByRole('table', { name: 'The odd cup of each three' }).getByRole('row');
  for (const [t, taster] of ['P1', 'P2'].entries()) {
    await page.getByText(`${taster}: 0 of 4 rungs`).click();
    const cells = await rows
      .nth(t + 1)
      .getByRole('cell')
      .allTextContents();
    const odd = cells.filter((text) => /^\d{3}$/.test(text));
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
  await page
    .getByText(`Quassia wood extract, 2 % quassin by mass, in ethanol: ${least} to 25 of 100`)
    .waitFor();
  // By hand: 0.3536 mg/L · 25 mL / (4000 mg · 0.17 mL/L) of the blend, rounded up to four decimals.
  expect(Number(least)).toBeCloseTo(
    100 * (Math.ceil((1e4 * (0.5 / Math.SQRT2) * 25) / (4000 * 0.17)) / 1e4),
    9,
  );
  expect(errors).toEqual([]);
  await context.close();
});
