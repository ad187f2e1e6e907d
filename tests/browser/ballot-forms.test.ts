import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { TEST_FORMS } from '../../trials/schema/scale-form.ts';
import { manyForms } from '../support/many-forms.ts';
import { answersIn, type Laid, layOut } from './evening.ts';
import { openPage, PHONE } from './program.ts';
import { setStage } from './stage.ts';

let forms: Laid;
let tests: Laid[];

const stage = setStage((program) => {
  const pair = { mixes: ['qa1', 'qb2'], reference: false };
  const asked = TEST_FORMS.map((form) => {
    const stronger = form.endsWith('afc') ? { of: 'bitterness', stronger: 'qa1' } : { of: '' };
    return { ...pair, assessors: ['Ann'], test: { form, ...stronger } };
  });
  const scored = { assessors: ['Ann', 'Bob', 'Cy'], mixes: ['qa1'], reference: false, warmup: true };
  const rests = { restSeconds: 1, longRestSeconds: 1 };
  [forms, ...tests] = layOut(
    program,
    [{ ...scored, ...rests, mixes: ['qa1', 'qb2'] }, ...asked],
    manyForms(),
  ) as [Laid, ...Laid[]];
});
const { program } = stage;

async function violations(page: Page): Promise<string[]> {
  const { violations: found } = await new AxeBuilder({ page }).analyze();
  return found.map(({ id, nodes }) => `${id}: ${nodes.map((n) => n.target.join(' ')).join(', ')}`);
}

/** How far the page is wider than the screen, in pixels. */
async function overhang(page: Page): Promise<number> {
  return page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
}

/** Text at twice its size, as a phone's own setting makes it. */
async function doubleText(page: Page): Promise<void> {
  await page.evaluate(() => document.documentElement.style.setProperty('font-size', '200%'));
}

async function begin(page: Page, link: string): Promise<void> {
  await page.goto(program.address + link);
  await page.getByRole('button', { name: 'I may taste' }).click();
}

async function fillCup(page: Page): Promise<void> {
  await page.getByRole('button', { name: /^I have cup/ }).click();
  await page.getByRole('slider').click();
  for (const word of ['sharp', 'like slightly', 'just about right', 'pith'])
    await page
      .locator('label')
      .filter({ hasText: new RegExp(`^${word}$`) })
      .click();
}

describe.each(['light', 'dark'] as const)('in the %s theme', (theme) => {
  test('every form of question passes the accessibility checker, on a tall and a wide screen, at twice the text', async () => {
    const { page, context, errors } = await openPage(stage.browser, PHONE);
    await page.emulateMedia({ colorScheme: theme });
    const look = async (where: string) => {
      expect([where, await violations(page)]).toEqual([where, []]);
      for (const size of [PHONE, { width: PHONE.height, height: PHONE.width }]) {
        await page.setViewportSize(size);
        await doubleText(page);
        expect([where, size.width, await overhang(page)]).toEqual([where, size.width, 0]);
        await page.evaluate(() => document.documentElement.style.removeProperty('font-size'));
      }
      await page.setViewportSize(PHONE);
    };
    await page.goto(program.address + forms.links[theme === 'light' ? 'Ann' : 'Bob']);
    await page.getByRole('button', { name: 'I may taste' }).waitFor();
    await look('consent');
    await page.getByRole('button', { name: 'I may taste' }).click();
    await page.getByRole('button', { name: /^I have cup/ }).waitFor();
    await look('a cup to take');
    for (let cup = 1; cup <= 3; cup++) {
      await fillCup(page);
      if (cup === 1) await look('all scales and words');
      await page.getByRole('button', { name: 'Done with this cup' }).click();
      if (cup === 1) await look('rest');
    }
    await page.getByRole('heading', { name: 'Put the cups in order' }).waitFor();
    await page
      .getByRole('button', { name: /no place yet/ })
      .first()
      .click();
    await look('ranking');
    await page
      .getByRole('button', { name: /no place yet/ })
      .first()
      .click();
    await page.getByRole('button', { name: 'Done' }).click();
    await page.getByText('Every answer has arrived.', { exact: true }).waitFor();
    await look('the end');
    expect(errors).toEqual([]);
    await context.close();
  });
});

test.each(TEST_FORMS.map((form, i) => [form, i] as const))(
  'the set of a %s test passes too',
  async (form, i) => {
    const { page, context, errors } = await openPage(stage.browser, PHONE);
    await begin(page, tests[i]!.links['Ann']!);
    await page.getByRole('button', { name: 'I have these cups' }).click();
    await page.locator('label').last().click();
    expect([form, await violations(page)]).toEqual([form, []]);
    await doubleText(page);
    expect(await overhang(page)).toBe(0);
    expect(errors).toEqual([]);
    await context.close();
  },
);

test('a whole ballot can be filled in from the keyboard alone', async () => {
  const { page, context, errors } = await openPage(stage.browser, PHONE);
  await page.goto(program.address + forms.links['Cy']);
  await page.getByRole('button', { name: 'I may taste' }).waitFor();
  /** Tabs on until something with these words has the focus. */
  const reach = async (words: RegExp) => {
    for (let n = 0; n < 60; n++) {
      const named = await page.evaluate(() => {
        const here = document.activeElement;
        if (here === null || here === document.body) return '';
        const own = here.getAttribute('aria-label') ?? here.textContent ?? '';
        const label = here.closest('label')?.textContent ?? '';
        const by = document.getElementById(here.getAttribute('aria-labelledby') ?? '')?.textContent ?? '';
        return [own, label, by].join(' | ');
      });
      if (words.test(named)) return;
      await page.keyboard.press('Tab');
    }
    throw new Error(`${words} was not reached`);
  };
  await reach(/I may taste/);
  await page.keyboard.press('Enter');
  for (let cup = 1; cup <= 3; cup++) {
    await page.getByRole('button', { name: /^I have cup/ }).waitFor();
    await reach(/I have cup/);
    await page.keyboard.press('Enter');
    await reach(/Bitter/);
    await page.keyboard.press('ArrowRight');
    for (const words of [/flat/, /dislike extremely/, /much too little/]) {
      await reach(words);
      await page.keyboard.press('Space');
    }
    await reach(/soap/);
    await page.keyboard.press('Space');
    await reach(/Done with this cup/);
    await page.keyboard.press('Enter');
  }
  await page.getByRole('heading', { name: 'Put the cups in order' }).waitFor();
  for (let n = 0; n < 2; n++) {
    await reach(/no place yet/);
    await page.keyboard.press('Enter');
  }
  await reach(/^Done/);
  await page.keyboard.press('Enter');
  await page.getByText('Every answer has arrived.', { exact: true }).waitFor();
  expect(errors).toEqual([]);
  await context.close();
  await program.kill();
  const { counted, messages } = answersIn(program, forms);
  // Three cups of five questions, and two places in the order.
  expect(counted.filter(({ assessor }) => assessor === 'Cy')).toHaveLength(17);
  const words = messages['Cy']!.filter(({ question }) => question === 'notes').map(({ value }) => value);
  expect(words).toEqual(['soap', 'soap', 'soap']);
  await program.start();
});
