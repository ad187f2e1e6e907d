import { expect, test } from 'vitest';
import { DESK, openPage } from './program.ts';
import { setStage } from './stage.ts';

const stage = setStage();

test('what tasters are told by itself can be worded by the maker, and is never lost', async () => {
  const { page, context, errors } = await openPage(stage.browser, DESK);
  await page.goto(`${stage.program.address}/#/trials/demo/brief`);
  await page.getByRole('heading', { name: 'The drink' }).click();
  await page.getByLabel('Drink, in words that give no formula away').fill('tonic water');
  await page.getByRole('heading', { name: 'Cautions' }).click();
  const field = page.getByLabel('In your words: quinine');
  await page
    .getByText(
      'In place of: “May hold quinine: not for who is pregnant or was told by a doctor to avoid it.”',
    )
    .waitFor();
  const save = page.getByRole('button', { name: 'Save the brief' });
  await field.fill('…');
  await save.click();
  await page.getByText('a caution in words (at least 4 letters)').first().waitFor();
  await field.fill('Kann Chinin enthalten: nicht für Schwangere.');
  await save.click();
  await page.getByText('Nothing changed.').waitFor();

  const told = async () => {
    await page.goto(`${stage.program.address}/#/trials/demo/ladder`);
    await page.getByText('cautions that tasters read before the first cup').click();
  };
  await told();
  await page.getByText('Kann Chinin enthalten').waitFor();
  await page.getByText('In place of: “May hold quinine').waitFor();

  await page.goto(`${stage.program.address}/#/trials/demo/brief`);
  await page.getByRole('heading', { name: 'Cautions' }).click();
  await field.fill('');
  await save.click();
  await page.getByText('Nothing changed.').waitFor();
  await told();
  await page.getByText('May hold quinine: not for who is pregnant').waitFor();
  expect(await page.getByText('Kann Chinin enthalten').count()).toBe(0);
  expect(errors).toEqual([]);
  await context.close();
});
