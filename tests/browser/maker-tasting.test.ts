import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { answersIn, type Laid, layOut } from './evening.ts';
import { DESK, openPage } from './program.ts';
import { setStage } from './stage.ts';

let evening: Laid;
let alone: Laid;

const stage = setStage((program) => {
  const one = { assessors: ['Ann'], mixes: ['qa1', 'qb2'], reference: false, alone: true };
  [evening, alone] = layOut(program, [{ label: 'Tuesday' }, one]) as [Laid, Laid];
});
const { program } = stage;

const addressOf = ({ trial, sitting }: Laid) =>
  `${program.address}/#/trials/${trial}/rounds/1/taste?sitting=${sitting}`;

/** Types a whole ballot with nothing but the keyboard; the line in millimetres, the liking as one figure. */
async function typeBallot(page: Page, marks: readonly (readonly [string, string])[]): Promise<void> {
  for (const [line, points] of marks) {
    await page.keyboard.type(line);
    if (line !== '-') await page.keyboard.press('Enter');
    await page.keyboard.type(points);
  }
}

test('paper in one pass, twice, a late taster, the key opened early: all from the taste page', async () => {
  const { page, errors } = await openPage(stage.browser, DESK);
  await page.goto(addressOf(evening));
  await page.getByText('a ballot was filled in on paper').click();
  const first = page.locator('.paper-marks input').first();
  await first.focus();
  const marks = [
    ['12', '3'],
    ['-', '4'],
    ['56', '5'],
    ['100', '-'],
  ] as const;
  await typeBallot(page, marks);
  expect(await page.locator('.paper-marks input').last().inputValue()).toBe('-');
  await page.getByRole('button', { name: 'Enter 8 marks' }).click();
  await page.getByText('8 marks of Ann entered').waitFor();
  await page.getByRole('button', { name: 'Enter it a second time' }).click();
  await page.locator('.paper-marks input').first().focus();
  await typeBallot(page, [marks[0], marks[1], ['65', '5'], marks[3]]);
  await page.getByRole('button', { name: 'Compare the two' }).click();
  await page.getByText('The two entries differ in 1 mark').waitFor();
  await page.getByRole('cell', { name: '56 mm' }).waitFor();
  await page.getByRole('cell', { name: '65 mm' }).waitFor();
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map(({ id }) => id)).toEqual([]);
  await page.getByRole('button', { name: 'Let the marks above in the form count' }).click();
  await page.getByText('8 marks of Ann entered').waitFor();

  await page.getByText('somebody did not come, or comes late').click();
  await page.getByLabel('Bob', { exact: true }).click();
  await page.getByText('did not come', { exact: true }).waitFor();
  await page.getByLabel('Somebody comes late').fill('Cy');
  await page.getByRole('button', { name: 'Seat them' }).click();
  await page.getByText('Cy has a tray').waitFor();

  await page.getByText('Open the key before the end').click();
  await page.getByLabel('Why now?').fill('a cup was spilt');
  await page.getByRole('button', { name: 'Open the key', exact: true }).click();
  await page.getByText(/is open; the record says/).waitFor();
  await page.goto(`${program.address}/#/trials/${evening.trial}/rounds/1/read`);
  await page.getByRole('button', { name: 'Read the scores' }).click();
  await page
    .getByText('Tuesday: the key was opened before the tasting had ended (a cup was spilt)')
    .waitFor();
  expect(errors).toEqual([]);
});

test('a sitting held alone: names under the cups are entered after the last ballot, then the key opens', async () => {
  const { page, errors } = await openPage(stage.browser, DESK);
  await page.goto(addressOf(alone));
  await page.getByRole('button', { name: 'End the tasting' }).click();
  await page.getByText(/answers are not in yet/).waitFor();
  await page.getByRole('button', { name: 'End it all the same' }).click();
  await page.getByRole('heading', { name: 'The names under the cups' }).waitFor();
  const under = page.getByLabel(/^Under \d{3}$/);
  await under.nth(0).selectOption('qb2');
  await under.nth(1).selectOption('qb2');
  await page.getByRole('button', { name: 'Enter the names' }).click();
  await page
    .getByText(/allowed qa1 and qb2/)
    .first()
    .waitFor();
  await under.nth(1).selectOption('qa1');
  await page.getByRole('button', { name: 'Enter the names' }).click();
  await page.getByRole('heading', { name: 'Open the key' }).waitFor();
  expect(errors.filter((text) => !/400/.test(text))).toEqual([]);
});

test('what was entered is what is kept', async () => {
  await program.kill();
  const { counted, messages, cups } = answersIn(program, evening);
  const codes = cups.filter(({ assessor }) => assessor === 'Ann').map(({ code }) => code);
  const scoreOf = (cup: number, question: string) =>
    counted.find((one) => one.assessor === 'Ann' && one.code === codes[cup] && one.question === question)
      ?.value;
  const scores = [0, 1, 2, 3].map((cup) => [scoreOf(cup, 'bitter'), scoreOf(cup, 'liking')]);
  expect(scores).toEqual([
    [12, 3],
    [null, 4],
    [65, 5],
    [100, null],
  ]);
  expect(messages['Ann']).toHaveLength(16);
  expect(new Set(cups.map(({ assessor }) => assessor))).toEqual(new Set(['Ann', 'Bob', 'Cy']));
  const named = answersIn(program, alone).cups.map(({ mix }) => mix);
  expect(named.sort()).toEqual(['qa1', 'qb2']);
});
