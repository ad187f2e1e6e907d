import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { answersIn, type Laid, layOut } from './evening.ts';
import { openPage, PHONE } from './program.ts';
import { setStage } from './stage.ts';
import { TasterPhone } from './taster.ts';

let evening: Laid;

const stage = setStage((program) => {
  const assessors = ['Ann', 'Bob', 'Cy', 'Dee', 'Eve', 'Flo'];
  [evening] = layOut(program, [{ assessors, warmup: true }]) as [Laid];
});
const { program } = stage;

/** What a browser says of a network that is gone. */
const LOST = /Failed to load resource/;
/** Two questions about each of five cups: three mixes, the reference and the practice cup. */
const ANSWERS = 10;

/** A phone that has opened a taster's link and may taste. */
async function phoneOf(taster: string, given?: { page: Page; context: TasterPhone['context'] }) {
  const { page, context } = given ?? (await openPage(stage.browser, PHONE, LOST));
  const phone = new TasterPhone(page, context);
  await phone.open(program.address + evening.links[taster]);
  return phone;
}

async function finishCup(phone: TasterPhone, share: number, point: number): Promise<void> {
  await phone.takeCup();
  await phone.markLineAndPoint(share, point);
  await phone.leaveCup();
}

/** A taster's tray on the live page. */
async function trayOf(taster: string) {
  const { trial, sitting } = evening;
  const live = await (await fetch(`${program.address}/api/trials/${trial}/sittings/${sitting}/live`)).json();
  const { trays } = live as { trays: { assessor: string; filled: number; mayTaste: boolean }[] };
  return trays.find(({ assessor }) => assessor === taster)!;
}

const filled = async (taster: string) => (await trayOf(taster)).filled;
const mayTaste = async (taster: string) => (await trayOf(taster)).mayTaste;

describe('a phone', () => {
  test('without a network from the third cup to the end sends everything once it is back, also after a reload', async () => {
    const phone = await phoneOf('Ann');
    await phone.consent();
    for (const [share, point] of [
      [0.2, 3],
      [0.4, 4],
    ] as const) {
      await finishCup(phone, share, point);
      await phone.rest();
    }
    await phone.takeCup();
    await phone.page.getByRole('slider').click();
    await phone.page.getByText('all answers saved').waitFor();
    await phone.page.reload();
    expect(await phone.page.getByText('marked', { exact: true }).count()).toBe(1);
    await phone.context.setOffline(true);
    await phone.markLineAndPoint(0.6, 5);
    await phone.leaveCup();
    for (const point of [6, 7]) {
      await phone.rest();
      await finishCup(phone, 0.7, point);
    }
    await phone.page.getByText('Keep this page open until every answer has arrived.').waitFor();
    expect(await filled('Ann')).toBe(2);
    await phone.context.setOffline(false);
    await phone.page.clock.fastForward('00:20');
    await phone.page.getByText('Every answer has arrived.', { exact: true }).waitFor();
    expect(await filled('Ann')).toBe(5);
    await phone.context.close();
  });

  test('that shares its link with another keeps both answers; the later one counts and the clash shows', async () => {
    const first = await phoneOf('Bob');
    await first.consent();
    await finishCup(first, 0.3, 2);
    await first.page.getByText('all answers saved').waitFor();
    const second = await phoneOf('Bob');
    await second.page.getByRole('button', { name: /^I have cup/ }).waitFor();
    await first.rest();
    await first.takeCup();
    await second.takeCup();
    await first.markLineAndPoint(0.2, 3);
    await first.page.getByText('all answers saved').waitFor();
    await second.markLineAndPoint(0.9, 8);
    await second.page.getByText('all answers saved').waitFor();
    const { trial, sitting } = evening;
    const address = `${program.address}/#/trials/${trial}/rounds/1/taste?sitting=${sitting}`;
    const maker = await openPage(stage.browser, { width: 1440, height: 900 });
    await maker.page.goto(address);
    await maker.page.getByText('Two phones with one link differ in 2 marks; the later one counts.').waitFor();
    for (const { context } of [first, second, maker]) await context.close();
  });

  test('handed from taster to taster keeps their answers apart, also those that wait', async () => {
    const shared = await openPage(stage.browser, PHONE, LOST);
    const phone = await phoneOf('Cy', shared);
    await phone.page.getByText('Hello Cy').waitFor();
    // Also the consent is given without a network, and arrives later.
    await phone.context.setOffline(true);
    await phone.consent();
    await finishCup(phone, 0.1, 1);
    await phone.page.getByText(/2 waiting to be sent/).waitFor();
    await phone.page.route('**/api/ballot/{answers,consent}', (route) => route.abort());
    await phone.context.setOffline(false);
    await phone.page.goto(program.address + evening.links['Dee']);
    expect(await mayTaste('Cy')).toBe(false);
    await phone.page.getByText('Hello Dee').waitFor();
    await phone.consent();
    await finishCup(phone, 0.9, 9);
    await phone.page.getByText(/2 waiting to be sent/).waitFor();
    await phone.page.unroute('**/api/ballot/{answers,consent}');
    for (const taster of ['Cy', 'Dee']) {
      await phone.page.goto('about:blank');
      await phone.page.goto(program.address + evening.links[taster]);
      await phone.page.clock.fastForward('00:20');
      await phone.page.getByText('all answers saved').waitFor();
      expect([taster, await filled(taster), await mayTaste(taster)]).toEqual([taster, 1, true]);
    }
    await phone.context.close();
  });

  test('whose browser keeps nothing says so before the first cup, and its answers arrive', async () => {
    const { page, context } = await openPage(stage.browser, PHONE, LOST);
    await page.addInitScript(`
      Object.defineProperty(Storage.prototype, 'setItem', { value: () => { throw new Error('private'); } });`);
    const phone = await phoneOf('Eve', { page, context });
    await page
      .getByText(/This browser keeps nothing/)
      .first()
      .waitFor();
    await phone.consent();
    await finishCup(phone, 0.5, 5);
    await page.getByText('all answers saved').waitFor();
    await expect.poll(() => filled('Eve')).toBe(1);
    await context.close();
  });

  test('speaks the language of its browser, or another', async () => {
    const context = await stage.browser.newContext({ viewport: PHONE, locale: 'fr-FR' });
    const page = await context.newPage();
    await page.goto(program.address + evening.links['Flo']);
    expect(await page.locator('html').getAttribute('lang')).toBe('fr');
    const french = await page.locator('main').textContent();
    await page.getByRole('combobox').selectOption('es');
    expect(await page.locator('html').getAttribute('lang')).toBe('es');
    expect(await page.locator('main').textContent()).not.toBe(french);
    await context.close();
  });
});

test('after all of it the data hold every answer once, each phone’s own', async () => {
  await program.kill();
  const { counted, messages, cups } = answersIn(program, evening);
  expect(counted.filter(({ assessor }) => assessor === 'Ann')).toHaveLength(ANSWERS);
  // One mark was made before the reload and changed after it.
  expect(messages['Ann']).toHaveLength(ANSWERS + 1);
  const points = messages['Ann']!.filter(({ question }) => question === 'liking');
  const order = cups.filter(({ assessor }) => assessor === 'Ann').map(({ code }) => code);
  expect(points.map(({ code, value }) => [code, value])).toEqual(order.map((code, i) => [code, i + 3]));
  const last = (taster: string, place: number) => {
    const { code } = cups.filter(({ assessor }) => assessor === taster)[place]!;
    return counted.find((one) => one.assessor === taster && one.code === code && one.question === 'liking')
      ?.value;
  };
  expect(last('Bob', 1)).toBe(8);
  expect(messages['Bob']).toHaveLength(6);
  expect([last('Cy', 0), last('Dee', 0)]).toEqual([1, 9]);
});
