import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { DESK, openPage, PHONE, recordTraffic } from './program.ts';
import { setStage } from './stage.ts';
import { TasterPhone } from './taster.ts';

/** A phone tries again after a quarter of a minute at the latest, and gives each try another quarter. */
const ARRIVAL = { timeout: 90_000 };
const stage = setStage();
const { program } = stage;

/** What the demo's brief calls its components, and the mixes of round 2: none of it may reach a taster. */
const SECRETS = [
  'Grapefruit peel oil',
  'Nootkatone',
  '1-p-menthene',
  'Quassia wood extract',
  '"noot"',
  '"thiol"',
  '"quassia"',
  '"peel"',
  'ratios',
  'grams',
];

/** What a browser says of the network that the test takes away and of the server that it kills. */
const LOST = /Failed to load resource/;

describe('the demo, from its scores to a read second round', () => {
  test('the maker, two tasters and a pourer play it on a real database', async () => {
    const maker = await openPage(stage.browser, DESK, LOST);
    const { page } = maker;

    await read(page, 1);
    await proposeTwo(page);
    await weighAll(page);
    await page.goto(`${program.address}/#/trials/demo/rounds/2/rest`);
    await page.getByRole('button', { name: 'They have rested' }).click();
    await page.goto(`${program.address}/#/trials/demo/rounds/2/dose`);
    await page.getByRole('button', { name: 'The drinks are dosed' }).click();

    await page.goto(`${program.address}/#/trials/demo/rounds/2/pour`);
    await page.getByLabel('Who tastes').fill('P1, P2');
    await page.getByRole('button', { name: 'Draw the codes' }).click();
    await pour(page);
    const links = await linksOf(page);
    expect(links).toHaveLength(2);

    const phones = await taste(page, links);
    await openTheKey(page);
    await read(page, 2);
    // Its pictures are drawn when they are looked at; what was read is checked below.
    await page.getByText(/m13/).first().waitFor({ state: 'attached' });
    await checkReading(page);

    const acts = (await (await fetch(`${program.address}/api/trials/demo/acts`)).json()) as { act: string }[];
    expect(acts.some(({ act }) => /key/.test(act))).toBe(true);
    expect([...maker.errors, ...phones]).toEqual([]);
  });
});

async function read(page: Page, round: number): Promise<void> {
  await page.goto(`${program.address}/#/trials/demo/rounds/${round}/read`);
  await page.getByRole('button', { name: /^(Read the scores|Read again)$/ }).click();
  await page.getByRole('heading', { name: 'Can we trust the panel?' }).waitFor();
}

async function proposeTwo(page: Page): Promise<void> {
  await page.goto(`${program.address}/#/trials/demo/next`);
  await page.getByLabel('How many?').fill('2');
  await page.getByRole('button', { name: 'Propose mixes' }).click();
  await page.getByRole('button', { name: /^Make these/ }).click();
  await page.getByRole('heading', { name: 'Round 2: weigh' }).waitFor();
}

/**
 * Weighs both bottles with the keyboard alone, on one vessel whose total grows. In the first, a pour goes far over and
 * the others are raised to put the ratio right; in the second, one goes far over and is kept as weighed.
 */
async function weighAll(page: Page): Promise<void> {
  const deaf = await watchTheField(page);
  await weighBottle(page, 'm13', { corrected: true });
  await page.keyboard.press('Enter');
  await weighBottle(page, 'm14', { corrected: false });
  await page.getByText('Every bottle is weighed.').waitFor();
  expect(await deaf(), 'asked for before a key would be heard').toEqual([]);
}

/** Watches whether each mass is asked for with its field ready: a key pressed before that would be lost. */
async function watchTheField(page: Page): Promise<() => Promise<string[]>> {
  await page.evaluate(`
    globalThis.deaf = [];
    new MutationObserver(() => {
      const form = document.querySelector('.one-line');
      if (form && !form.contains(document.activeElement)) deaf.push(form.querySelector('.component').textContent);
    }).observe(document.body, { childList: true, subtree: true });
  `);
  return () => page.evaluate<string[]>('deaf');
}

async function weighBottle(page: Page, bottle: string, { corrected }: { corrected: boolean }): Promise<void> {
  const whole = page.getByRole('heading', { name: `Bottle ${bottle} is whole` });
  const asked = page.locator('.one-line .component');
  await page.getByText(`1 of 5 in bottle ${bottle}`).waitFor();
  for (let pour = 1; !(await whole.isVisible()); pour++) {
    expect(pour, 'five pours, and at most four more after a correction').toBeLessThanOrEqual(9);
    const line = (await asked.textContent())!;
    const shown = Number.parseFloat((await page.locator('.to-show').textContent())!.replace('weigh', ''));
    await page.keyboard.type((pour === 2 ? shown + 0.25 : shown).toFixed(2));
    await page.keyboard.press('Enter');
    if (pour === 2) {
      await page.getByText(/0\.25 g, \d+ %, too much\. Enter again keeps it as weighed\./).waitFor();
      if (corrected) for (const key of ['Tab', 'Tab']) await page.keyboard.press(key);
      await page.keyboard.press('Enter');
    }
    await asked.filter({ hasNotText: line }).or(whole).first().waitFor();
  }
}

interface Weighed {
  mix: string;
  weighed: Record<string, number>;
  planned: { grams: Record<string, number>; ratios: Record<string, number> };
}

/** What was weighed is what is read: the corrected bottle at its planned ratio, the other as it came. */
async function checkReading(page: Page): Promise<void> {
  const get = async (path: string) => (await fetch(`${program.address}/api/trials/demo${path}`)).json();
  const { mixes } = (await get('/rounds/2')) as { mixes: Weighed[] };
  const address = await page.evaluate(() => location.href);
  expect(address).toContain('/rounds/2/read');
  const { readings } = (await get('')) as { readings: { reading: string; kind: string }[] };
  const { input } = (await get(`/readings/${readings.find(({ kind }) => kind === 'read')!.reading}`)) as {
    input: { mixes: { mix: string; shares: number[] }[] };
  };
  for (const { mix, weighed, planned } of mixes) {
    const total = Object.values(weighed).reduce((sum, grams) => sum + grams, 0);
    const plan = Object.values(planned.grams).reduce((sum, grams) => sum + grams, 0);
    const ids = ['peel', 'noot', 'thiol', 'pink', 'quassia'];
    const shares = ids.map((id) => weighed[id]! / total);
    const read = input.mixes.find((one) => one.mix === mix)!.shares;
    for (const [i, share] of shares.entries()) expect(Math.abs(read[i]! - share)).toBeLessThan(1e-12);
    const off = Math.max(...ids.map((id, i) => Math.abs(shares[i]! - planned.ratios[id]!)));
    if (mix === 'm13') {
      expect(total).toBeGreaterThan(plan + 0.3);
      // Each mass is rounded to 0.01 g of some 5.
      expect(off).toBeLessThan(0.002);
    } else {
      expect(total).toBeCloseTo(plan + 0.25, 9);
      expect(off).toBeGreaterThan(0.02);
    }
  }
}

/** The pourer opens their own link and sees trays with codes and mixes. */
async function pour(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'A link for whoever pours' }).click();
  const address = (await page
    .getByRole('link', { name: /^http.*/ })
    .first()
    .textContent())!;
  const pourer = await openPage(stage.browser, PHONE);
  await pourer.page.goto(address);
  await pourer.page.getByText(/m13/).first().waitFor();
  await pourer.page
    .getByText(/\b\d{3}\b/)
    .first()
    .waitFor();
  expect(pourer.errors).toEqual([]);
  await pourer.context.close();
  await page.getByRole('button', { name: 'The cups are poured' }).click();
}

async function linksOf(page: Page): Promise<string[]> {
  await page.goto(`${program.address}/#/trials/demo/rounds/2/taste`);
  const links: string[] = [];
  for (const taster of ['P1', 'P2']) {
    await page.getByRole('button', { name: new RegExp(`^${taster}`) }).click();
    await page.getByRole('heading', { name: taster }).waitFor();
    links.push((await page.getByRole('link', { name: /ballot\.html#/ }).textContent())!);
  }
  return links;
}

/** Two phones at once: one loses its network, one its server; both end with every answer in, once. */
async function taste(page: Page, links: readonly string[]): Promise<string[]> {
  const opened = [await openPage(stage.browser, PHONE, LOST), await openPage(stage.browser, PHONE, LOST)];
  const traffic = opened.map((one) => recordTraffic(one.page));
  const [first, second] = opened.map((one) => new TasterPhone(one.page, one.context)) as [
    TasterPhone,
    TasterPhone,
  ];
  await first.open(links[0]!);
  await second.open(links[1]!);
  for (const phone of [first, second]) await phone.consent();
  await first.page.getByText('The tasting has not begun').waitFor();
  await page.getByRole('button', { name: 'Begin the tasting' }).click();

  await Promise.all([first.finishCup(0.4), second.finishCup(0.6)]);
  await Promise.all([first.rest(), second.rest()]);

  await first.takeCup();
  await first.page.getByRole('slider').first().click();
  await first.page.reload();
  expect(await first.page.getByText('marked', { exact: true }).count()).toBe(1);
  await first.context.setOffline(true);
  await first.markAll(0.3);
  await first.leaveCup();
  await first.page.getByText(/waiting to be sent/).waitFor();

  await program.kill();
  await second.finishCup(0.7);
  await second.page.getByText(/waiting to be sent/).waitFor();
  await program.start();

  await first.context.setOffline(false);
  await Promise.all([first.rest(), second.rest()]);
  await Promise.all([first.finishCup(0.5), second.finishCup(0.2)]);
  for (const phone of [first, second])
    await phone.page.getByText('Every answer has arrived.', { exact: true }).waitFor(ARRIVAL);

  for (const heard of traffic) {
    const text = withoutScripts(await heard());
    for (const secret of SECRETS) expect(text, secret).not.toContain(secret);
    expect(text).not.toMatch(/\bm1[34]\b/);
  }
  return opened.flatMap((one) => one.errors);
}

/** The script is the same for every trial; what the server says of this one is what counts. */
function withoutScripts(traffic: string): string {
  return traffic
    .split(/\n(?=https?:)/)
    .filter((part) => !/^\S+\.js\n/.test(part))
    .join('\n');
}

async function openTheKey(page: Page): Promise<void> {
  await page.goto(`${program.address}/#/trials/demo/rounds/2/taste`);
  await page
    .getByText(/36 of 36 answers/)
    .first()
    .waitFor(ARRIVAL);
  await page.getByRole('button', { name: 'End the tasting' }).click();
  await page.getByLabel(/Why now\?|Why/).fill('all ballots are in');
  await page.getByRole('button', { name: 'Open the key', exact: true }).click();
  await page.getByText(/is open; the record says/).waitFor();
}
