import { expect, test } from 'vitest';
import { DESK, openPage, PHONE } from './program.ts';
import { setStage } from './stage.ts';

const stage = setStage();

test('an own limit is entered at the shelf, judged in the brief, changed, taken away and brought back', async () => {
  const { page, context, errors } = await openPage(stage.browser, DESK, /400/);
  await page.goto(`${stage.program.address}/#/shelf`);
  await page.getByText('A limit of your own').click();
  const form = page.getByRole('form', { name: 'A limit of your own' });
  await form.getByLabel('Of what').fill('Quassin');
  await form.getByLabel('At most').fill('0,1');
  await form.getByRole('button', { name: 'Keep the limit' }).click();
  await page.getByText('Where this stands: 1 to 300 characters').waitFor();
  await form.getByLabel('Where this stands').fill('letter of May');
  await form.getByLabel('of this kind only').fill('soft drinks for children');
  await form.getByLabel('Whose rule').fill('customer');
  await form.getByRole('button', { name: 'Keep the limit' }).click();
  const own = page.getByRole('list', { name: 'Limits of your own' });
  await own.getByText('at most 0.1 mg/kg in any drink (soft drinks for children).').waitFor();
  await own
    .getByText('Stands in: letter of May (customer). Own figure, not verified: check the law where you sell.')
    .waitFor();

  await page.goto(`${stage.program.address}/#/trials/demo/brief`);
  await page
    .getByText('This brief allows too much: Quassin: 0.256 mg/kg in the drink against 0.1 mg/kg')
    .waitFor();
  await page.getByText('your own figure: check the law where you sell').waitFor();

  await page.goto(`${stage.program.address}/#/shelf`);
  await own.getByRole('button', { name: 'Change the limit for Quassin' }).click();
  const changing = page.getByRole('form', { name: 'The limit for Quassin' });
  await changing.getByLabel('At most').fill('0.3');
  await changing.getByLabel('Of what').fill('Quassiin');
  await changing.getByRole('button', { name: 'Keep the change' }).click();
  await own.getByText('Nothing on the shelf is called so').waitFor();
  await page.getByRole('button', { name: 'Undo' }).click();
  await own.getByText('at most 0.1 mg/kg').waitFor();
  expect(await own.getByText('Nothing on the shelf is called so').count()).toBe(0);
  await own.getByRole('button', { name: 'Take away the limit for Quassin' }).click();
  await own.waitFor({ state: 'detached' });
  await page.getByRole('button', { name: 'Undo' }).click();
  await own.getByText('at most 0.1 mg/kg').waitFor();
  await context.close();

  const phone = await openPage(stage.browser, PHONE);
  await phone.page.goto(`${stage.program.address}/#/shelf`);
  await phone.page.getByText('at most 0.1 mg/kg').waitFor();
  const width = await phone.page.evaluate(() => document.documentElement.scrollWidth);
  expect(width).toBeLessThanOrEqual(PHONE.width);
  expect([...errors, ...phone.errors]).toEqual([]);
  await phone.context.close();
});
