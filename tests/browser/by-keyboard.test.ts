import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { answerAsPhones } from './phones.ts';
import { DESK, openPage } from './program.ts';
import { setStage } from './stage.ts';

const stage = setStage();
const { program } = stage;

/** Enough steps of the Tab key for any page here. */
const MOST_TABS = 150;
/** How long what is wanted may be on its way, in milliseconds. */
const PATIENCE = 30_000;

/** A maker without a pointer: what is pressed must have been reached by Tab. */
class Keys {
  readonly page: Page;

  constructor(page: Page) {
    this.page = page;
  }

  /** Goes on by Tab to what bears a name. */
  async to(name: RegExp): Promise<void> {
    const latest = Date.now() + PATIENCE;
    for (let tabs = 0; tabs < MOST_TABS || Date.now() < latest; tabs++) {
      if (name.test(await this.focused())) return;
      await this.page.keyboard.press('Tab');
    }
    throw new Error(`no Tab reaches ${name}`);
  }

  async press(name: RegExp): Promise<void> {
    await this.to(name);
    await this.page.keyboard.press('Enter');
  }

  async type(name: RegExp, value: string): Promise<void> {
    await this.to(name);
    await this.page.keyboard.press('Control+a');
    await this.page.keyboard.type(value);
  }

  async heading(name: string | RegExp): Promise<void> {
    await this.page.getByRole('heading', { name }).first().waitFor();
  }

  /** Words of what has the focus: its own, or those of its label. */
  focused(): Promise<string> {
    return this.page.evaluate(() => {
      const at = document.activeElement;
      if (at === null || at === document.body) return '';
      const labels = at instanceof HTMLInputElement ? [...(at.labels ?? [])].map((l) => l.textContent) : [];
      return (at.getAttribute('aria-label') ?? (labels.join(' ') || at.textContent) ?? '').trim();
    });
  }
}

/** Weighs each bottle of a round with what the balance is to show, and lets them rest. */
async function weighBottles(keys: Keys, lines: number, bottles: number): Promise<void> {
  for (let bottle = 1; bottle <= bottles; bottle++) {
    for (let line = 1; line <= lines; line++) {
      await keys.page.getByText(new RegExp(`^\\s*${line} of ${lines} in bottle`)).waitFor();
      const show = (await keys.page.locator('.to-show').textContent())!.replace('weigh', '');
      await keys.type(/What the balance shows/, String(Number.parseFloat(show)));
      await keys.page.keyboard.press('Enter');
    }
    await keys.heading(/is whole/);
    if (bottle === bottles) await keys.page.getByText('Every bottle is weighed.').waitFor();
    await keys.press(bottle < bottles ? /^Weigh bottle/ : /^Let them rest$/);
  }
  await keys.press(/^They have rested$/);
  await keys.heading(/: dose$/);
}

/** Pours the sitting that is drawn, lets the tasters answer on their phones, ends it and opens its key. */
async function taste(keys: Keys, of: { trial: string; round: number }): Promise<void> {
  await keys.press(/^The cups are poured$/);
  await keys.press(/^Begin the tasting$/);
  await keys.page.getByRole('button', { name: 'End the tasting' }).waitFor();
  await answerAsPhones(
    program,
    of,
    (mix, taster) => 20 + ((7 * mix.length + Number(mix.slice(1) || 9) * 11) % 50) + Number(taster.slice(1)),
  );
  await keys.page
    .getByText(/(\d+) of \1 answers/)
    .first()
    .waitFor();
  await keys.press(/^End the tasting$/);
  await keys.page.getByLabel(/Why/).waitFor();
  await keys.type(/Why/, 'all ballots are in');
  await keys.press(/^Open the key$/);
  await keys.page.getByText(/is open; the record says/).waitFor();
}

describe('without a pointer', () => {
  test('the demo is read, its next mix made, and a weighing taken back', async () => {
    const { page, errors } = await openPage(stage.browser, DESK);
    const keys = new Keys(page);
    await page.goto(program.address);
    await page.getByText('Open the invented trial').waitFor();
    await keys.press(/^Open the invented trial$/);
    await keys.press(/^Go on: read/);
    await keys.press(/^Read the scores$/);
    await keys.heading('Can we trust the panel?');

    await page.keyboard.press(']');
    await keys.heading('Next mixes');
    await keys.type(/^How many\?$/, '1');
    await page.keyboard.press('Enter');
    await keys.heading('Worth making next');
    await keys.press(/^Make this|^Make these/);
    await keys.heading('Round 2: weigh');

    for (let line = 1; line <= 2; line++) {
      await page.getByText(new RegExp(`${line} of 5 in bottle`)).waitFor();
      const show = (await page.locator('.to-show').textContent())!.replace('weigh', '');
      await keys.type(/What the balance shows/, String(Number.parseFloat(show)));
      await page.keyboard.press('Enter');
    }
    await undoTheWeighing(keys);
    expect(errors).toEqual([]);
  });

  test('a trial is begun, planned, weighed, tasted, read, proved blind and printed', async () => {
    const { page, errors } = await openPage(stage.browser, DESK);
    const keys = new Keys(page);
    await page.goto(program.address);
    await page.getByText('New trial').waitFor();
    await keys.press(/^New trial$/);
    await keys.heading('New trial');
    await keys.type(/^Name of the trial$/, 'By keys');
    for (const name of ['Peel', 'Wood']) {
      await keys.type(/^Name$/, name);
      await keys.type(/^At least$/, '20');
    }
    await keys.type(/^Name$/, 'Bitter');
    await keys.type(/^Score$/, '40');
    await keys.type(/^Tasters$/, '2');
    await keys.press(/^Begin the trial$/);
    await keys.heading('Plan the first mixes');
    const trial = /trials\/([^/?]+)/.exec(page.url())![1]!;

    await keys.type(/^How many mixes\?$/, '4');
    await keys.type(/^Of these weighed twice$/, '0');
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: /^Make these/ }).waitFor();
    await keys.press(/^Make these/);
    await keys.heading('Round 1: weigh');
    await weighBottles(keys, 2, 4);
    await keys.press(/^The drinks are dosed$/);
    await keys.press(/^Draw the codes$/);
    await taste(keys, { trial, round: 1 });
    await keys.press(/^On: read$/);
    await keys.press(/^Read the scores$/);
    await keys.heading('Can we trust the panel?');

    await page.keyboard.press(']');
    await keys.heading('Next mixes');
    await keys.type(/^How many\?$/, '1');
    await page.keyboard.press('Enter');
    await keys.heading('Worth making next');
    await keys.press(/^Proof, later$/);
    await keys.press(/^Make the round that proves it$/);
    await keys.heading('Round 2: weigh');
    await weighBottles(keys, 2, 1);
    await keys.press(/^Proof, later$/);
    await keys.press(/^Draw the codes$/);
    await taste(keys, { trial, round: 2 });
    await keys.press(/^Proof, done$/);
    await page.getByText(/^(Not shown|Shown: it is preferred)/).waitFor();
    await keys.press(/^On: card$/);
    await keys.press(/^Publish version 1$/);
    await page.getByText(/^Formula card, version 1/).waitFor();
    await page.getByText(/hown against m1: /).waitFor();
    await page.goto(`${program.address}/#/trials/${trial}`);
    await page.getByText('Version 1 of the card is published.').waitFor();
    expect(errors).toEqual([]);
  });
});

/** The key u takes the last mass back, and it is typed again. */
async function undoTheWeighing(keys: Keys): Promise<void> {
  const { page } = keys;
  await page.getByText(/3 of 5 in bottle/).waitFor();
  await keys.to(/^Undo$/);
  await page.keyboard.press('u');
  await page.getByText(/2 of 5 in bottle/).waitFor();
  const show = (await page.locator('.to-show').textContent())!.replace('weigh', '');
  await keys.type(/What the balance shows/, String(Number.parseFloat(show)));
  await page.keyboard.press('Enter');
  await page.getByText(/3 of 5 in bottle/).waitFor();
}

describe('the desk', () => {
  test('moves by keys, stays weighable and feasible, predicts, and its address brings the same ratio back', async () => {
    const { page, errors, context } = await openPage(stage.browser, DESK);
    await page.goto(`${program.address}/#/trials/demo/desk`);
    const seams = page.getByRole('slider', { name: /^Seam/ });
    await seams.first().waitFor();
    const shares = async () => (await page.locator('.desk-bar .share .number').allTextContents()).map(Number);
    const before = await shares();
    const seam = (await shares()).length - 2;
    await seams.nth(seam).focus();
    for (let k = 0; k < 4; k++) await page.keyboard.press('Shift+ArrowRight');
    await page.keyboard.press('Shift+ArrowLeft');
    const after = await shares();
    expect(after).not.toEqual(before);
    expect(after.reduce((a, b) => a + b, 0)).toBeCloseTo(100, 0);
    await page.getByText('of a match').first().waitFor();

    const other = await openPage(stage.browser, DESK);
    await other.page.goto(page.url());
    await other.page.locator('.desk-bar .share .number').first().waitFor();
    expect(await other.page.locator('.desk-bar .share .number').allTextContents()).toEqual(
      await page.locator('.desk-bar .share .number').allTextContents(),
    );
    expect([...errors, ...other.errors]).toEqual([]);
    await context.close();
    await other.context.close();
  });
});

describe('a long computation', () => {
  test('is stopped, leaves nothing behind, and the page goes on', async () => {
    const { page, errors } = await openPage(stage.browser, DESK);
    await page.goto(`${program.address}/#/trials/demo/plan`);
    await page.getByLabel('How many mixes?').fill('60');
    await page.getByRole('button', { name: 'Plan the mixes' }).click();
    await page.getByRole('button', { name: 'Stop' }).click();
    await page.getByRole('progressbar').waitFor({ state: 'detached' });
    const trial = (await (await fetch(`${program.address}/api/trials/demo`)).json()) as {
      readings: { kind: string }[];
    };
    expect(trial.readings.filter(({ kind }) => kind === 'plan')).toEqual([]);
    expect(await page.getByRole('button', { name: 'Plan the mixes' }).isEnabled()).toBe(true);
    expect(errors).toEqual([]);
  });
});

describe('a deep link', () => {
  test.each([
    ['#/trials/demo/rounds/1/read', /^Round 1: read/],
    ['#/trials/demo/rounds/1/taste', /^Round 1: taste/],
    ['#/trials/demo/record', 'Record'],
    ['#/trials/demo/rounds/9/read', 'There is no round 9 yet'],
    ['#/trials/nobody', 'Trial'],
    ['#/nowhere', 'There is no such page'],
  ])('%s opens where it says, in a browser that was never here', async (hash, heading) => {
    const { page, context } = await openPage(stage.browser, DESK, /Failed to load resource/);
    await page.goto(`${program.address}/${hash}`);
    await page.getByRole('heading', { name: heading, level: 1 }).waitFor();
    await context.close();
  });
});

describe('a changed brief', () => {
  test('is taken back by one key', async () => {
    const { page, errors } = await openPage(stage.browser, DESK);
    const name = async () =>
      ((await (await fetch(`${program.address}/api/trials/demo`)).json()) as { name: string }).name;
    const before = await name();
    await page.goto(`${program.address}/#/trials/demo/brief`);
    await page.getByLabel('Name of the trial').fill('Another name');
    await page.getByRole('button', { name: /^Save/ }).click();
    await page.getByText('A new version of the brief is saved.').waitFor();
    expect(await name()).toBe('Another name');
    await page.keyboard.press('u');
    await expect.poll(name).toBe(before);
    expect(errors).toEqual([]);
  });

  test('outlives a workbench that ends: the bar says what is wrong, and saving goes on once it is back', async () => {
    const { page, errors } = await openPage(stage.browser, DESK, /Failed to load resource/);
    await page.goto(`${program.address}/#/trials/demo/brief`);
    await page.getByLabel('Name of the trial').fill('Kept through the end');
    await program.kill();
    const save = page.getByRole('button', { name: /^Save/ });
    await save.click();
    await page
      .locator('.savebar')
      .getByText(/does not answer/)
      .waitFor();
    expect(await page.getByLabel('Name of the trial').inputValue()).toBe('Kept through the end');
    await program.start();
    await save.click();
    await page.getByText('A new version of the brief is saved.').waitFor();
    expect(errors).toEqual([]);
  });
});
