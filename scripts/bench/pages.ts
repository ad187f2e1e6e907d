import type { Browser, CDPSession, Page } from 'playwright-core';
import { DESK, launchChromium, openPage, Program } from '../../tests/browser/program.ts';
import { createTrial } from '../../trials/rounds/create-trial.ts';
import type { Job } from '../../trials/schema/api.ts';
import { openStore } from '../../trials/store/store.ts';
import { briefOf, playTrial, type TrialSize } from './played-trial.ts';

type Print = (line: string) => void;

const DESK_TRIAL: TrialSize = { components: 6, attributes: 8, tasters: 6, rounds: 2, mixes: 12 };
const LARGE_TRIAL: TrialSize = { components: 6, attributes: 8, tasters: 60, rounds: 20, mixes: 10 };
/** What a slow laptop or tablet is beside this machine. */
const SLOWED = 4;
const RUNS = 5;
/** Trials to search among. */
const TRIALS = 200;

/** How long pages take in a real browser on the built workbench; `npm run build` first. */
export async function benchPages(print: Print): Promise<void> {
  const program = new Program();
  const store = openStore(program.folder);
  const context = { store, who: 'maker', now: () => new Date() };
  const desk = playTrial(context, DESK_TRIAL);
  const large = playTrial(context, LARGE_TRIAL);
  for (let i = 1; i <= TRIALS; i++)
    createTrial(context, { ...briefOf({ ...DESK_TRIAL, rounds: 0 }), name: `Invented trial ${i}` });
  store.close();
  await program.start();
  const browser = await launchChromium();
  try {
    const { page, errors } = await openPage(browser, DESK);
    const at = (path: string) => `${program.address}/#/trials/${path}`;
    const read = (trial: string) => compute(`${program.address}/api/trials/${trial}/readings`);

    await read('demo');
    const demo = at('demo/rounds/1/read');
    const slowed = await several(RUNS, () => untilShown(browser, demo, { rate: SLOWED }));
    const plain = await several(RUNS, () => untilShown(browser, demo));
    print(
      `reading of the demo, nothing in the browser's cache, processor slowed ${SLOWED} times; best and median of ${RUNS}:`,
    );
    print(`  words and numbers ${times(slowed, 'words')}, first chart ${times(slowed, 'chart')}`);
    print(`  the page's own processor time, times ${SLOWED}, whatever else the machine does:`);
    print(
      `    words ${times(plain, 'busyToWords', SLOWED)}, first chart ${times(plain, 'busyToChart', SLOWED)}`,
    );

    await read(desk);
    print(
      `desk, 6 components and 8 attributes, from key to new numbers: ${ms(await seams(page, at(`${desk}/desk`)))}`,
    );

    const seconds = (await read(large)) / 1000;
    print(`trial of 20 rounds, 200 mixes, 60 tasters, 96000 answers: read in ${seconds.toFixed(1)} s`);
    for (const [what, path] of [
      ['the list of trials', ''],
      ['where it stands', large],
      ['weighing of round 20', `${large}/rounds/${LARGE_TRIAL.rounds}/weigh`],
      ['tasting of round 20', `${large}/rounds/${LARGE_TRIAL.rounds}/taste`],
    ] as const)
      print(
        `  ${what}: ${ms(await median(RUNS, () => heading(page, path === '' ? `${program.address}/#/` : at(path))))}`,
      );
    const reading = at(`${large}/rounds/${LARGE_TRIAL.rounds}/read`);
    const shown = await several(RUNS, () => untilShown(browser, reading, { goDown: true }));
    print(`  its reading, words ${times(shown, 'words')}, first chart ${times(shown, 'chart')}`);
    for (const line of await fluency(page, reading)) print(`  its reading, ${line}`);
    print(`  its desk, from key to new numbers: ${ms(await seams(page, at(`${large}/desk`)))}`);
    print(`search over ${TRIALS} trials, from key to list: ${ms(await search(page, program.address))}`);
    if (errors.length > 0) throw new Error(`bench pages: the console shows ${errors.join('; ')}`);
  } finally {
    await browser.close();
    await program.end();
  }
}

/** Starts a computation over HTTP and waits for it; milliseconds. */
async function compute(address: string): Promise<number> {
  const began = performance.now();
  const started = await fetch(address, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({}),
  });
  if (!started.ok) throw new Error(`bench pages: ${await started.text()}`);
  let job = (await started.json()) as Job;
  while (job.state === 'running') {
    await new Promise((resolve) => setTimeout(resolve, 20));
    job = (await (await fetch(`${new URL(address).origin}/api/jobs/${job.job}`)).json()) as Job;
  }
  if (job.state !== 'done') throw new Error(`bench pages: the computation ended as ${job.state}`);
  return performance.now() - began;
}

interface Shown {
  /** Milliseconds from opening an address in a browser that has nothing of it, by the page's own clock. */
  words: number;
  chart: number;
  /** Of the page's own thread, in milliseconds of processor time: does not grow with what else the machine does. */
  busyToWords: number;
  busyToChart: number;
}

/** Notes when a page first holds words of a reading and a chart; text, since the page cannot see this module. */
const NOTE = `
  const seen = {};
  globalThis.seenAt = seen;
  new MutationObserver(() => {
    if (!seen.words && document.querySelector('main h2')) seen.words = performance.now();
    if (!seen.chart && document.querySelector('.chart svg')) seen.chart = performance.now();
  }).observe(document, { childList: true, subtree: true });
`;

/** From opening a reading to its words, and to its first chart; asked to, it goes down to the chart as a reader would. */
async function untilShown(
  browser: Browser,
  address: string,
  { rate = 1, goDown = false } = {},
): Promise<Shown> {
  const context = await browser.newContext({ viewport: DESK });
  try {
    const page = await context.newPage();
    const session = await context.newCDPSession(page);
    await page.addInitScript(NOTE);
    await session.send('Emulation.setCPUThrottlingRate', { rate });
    await session.send('Performance.enable', { timeDomain: 'threadTicks' });
    const before = await busyTime(session);
    await page.goto(address);
    await page.locator('main h2').first().waitFor({ state: 'attached' });
    const busyToWords = (await busyTime(session)) - before;
    if (goDown) await page.locator('.chart').first().scrollIntoViewIfNeeded();
    await page.locator('.chart svg').first().waitFor({ state: 'attached' });
    const busyToChart = (await busyTime(session)) - before;
    const seen = await page.evaluate<Pick<Shown, 'words' | 'chart'>>('seenAt');
    return { ...seen, busyToWords, busyToChart };
  } finally {
    await context.close();
  }
}

/** How a page that stands behaves: scrolled from top to bottom, with each fold opened, until the last chart is there. */
async function fluency(page: Page, address: string): Promise<string[]> {
  await page.goto('about:blank');
  await page.goto(address);
  await page.locator('.chart').first().scrollIntoViewIfNeeded();
  await page.locator('.chart svg').first().waitFor({ state: 'attached' });
  const began = performance.now();
  const scrolled = await longestTask(page, async () => {
    const height = await page.evaluate(() => document.documentElement.scrollHeight);
    for (let top = 0; top < height; top += 300) {
      await page.mouse.wheel(0, 300);
      await page.evaluate(() => new Promise(requestAnimationFrame));
    }
    await page.waitForTimeout(500);
  });
  const triangle = page.locator('.chart', { hasText: 'Hatched' }).locator('svg').first();
  await triangle.waitFor({ state: 'attached', timeout: 600_000 });
  const atTriangle = performance.now() - began;
  const folds = page.locator('main > details > summary, main > section > details > summary');
  const opened: number[] = [];
  for (const fold of await folds.all()) opened.push(await longestTask(page, () => fold.click()));
  return [
    `scrolled from top to bottom: longest time without a frame ${ms(scrolled)}`,
    `triangle drawn ${(atTriangle / 1000).toFixed(1)} s after the first chart, worked out beside the page`,
    `${opened.length} folds opened one after another: longest time without a frame ${ms(Math.max(...opened))}`,
  ];
}

/** The longest time between two frames while something is done and the second after. */
async function longestTask(page: Page, act: () => Promise<void>): Promise<number> {
  await page.evaluate(`
    globalThis.longest = 0;
    globalThis.watching = true;
    let last = performance.now();
    const look = (now) => {
      longest = Math.max(longest, now - last);
      last = now;
      if (watching) requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  `);
  await act();
  await page.waitForTimeout(1000);
  return page.evaluate('(watching = false, longest)');
}

async function busyTime(session: CDPSession): Promise<number> {
  const { metrics } = await session.send('Performance.getMetrics');
  return 1000 * metrics.find(({ name }) => name === 'TaskDuration')!.value;
}

/** Median over searches, from the key to the frame that shows fewer trials. */
async function search(page: Page, address: string): Promise<number> {
  await page.goto(`${address}/#/`);
  const field = page.locator('input[type=search]');
  await field.waitFor();
  const times = await page.evaluate(async () => {
    const input = document.querySelector<HTMLInputElement>('input[type=search]')!;
    const list = document.querySelector('main')!;
    const found: number[] = [];
    for (const text of ['Invented trial 1', 'Invented trial 19', 'Invented trial 199', '']) {
      const before = list.textContent;
      const began = performance.now();
      input.value = text;
      input.dispatchEvent(new Event('input', { bubbles: true }));
      while (list.textContent === before && performance.now() - began < 2000)
        await new Promise((resolve) => requestAnimationFrame(resolve));
      found.push(performance.now() - began);
    }
    return found;
  });
  return middle(times);
}

async function heading(page: Page, address: string): Promise<number> {
  await page.goto('about:blank');
  const began = performance.now();
  await page.goto(address);
  await page.locator('main h1').first().waitFor();
  return performance.now() - began;
}

/** Median over moves of a seam, from the key to the frame that shows other numbers. */
async function seams(page: Page, address: string): Promise<number> {
  await page.goto(address);
  await page.getByRole('slider', { name: /^Seam/ }).first().focus();
  await page.locator('.desk-profile .mean').first().waitFor({ state: 'attached' });
  const times = await page.evaluate(async () => {
    const profile = document.querySelector('.desk-profile')!;
    const seam = document.activeElement!;
    const found: number[] = [];
    for (let move = 0; move < 30; move++) {
      const before = profile.textContent;
      const began = performance.now();
      seam.dispatchEvent(
        new KeyboardEvent('keydown', {
          key: move % 2 ? 'ArrowLeft' : 'ArrowRight',
          shiftKey: true,
          bubbles: true,
        }),
      );
      while (profile.textContent === before && performance.now() - began < 2000)
        await new Promise((resolve) => requestAnimationFrame(resolve));
      found.push(performance.now() - began);
      await new Promise((resolve) => setTimeout(resolve, 400));
    }
    return found;
  });
  return middle(times);
}

async function median(runs: number, take: () => Promise<number>): Promise<number> {
  return middle(await several(runs, take));
}

async function several<T>(runs: number, take: () => Promise<T>): Promise<T[]> {
  const found: T[] = [];
  for (let run = 0; run < runs; run++) found.push(await take());
  return found;
}

function times(shown: readonly Shown[], of: keyof Shown, rate = 1): string {
  const all = shown.map((one) => rate * one[of]);
  return `${ms(Math.min(...all))} and ${ms(middle(all))}`;
}

function middle(times: readonly number[]): number {
  return [...times].sort((a, b) => a - b)[Math.floor(times.length / 2)]!;
}

function ms(time: number): string {
  return `${time.toFixed(0)} ms`;
}
