import type { CDPSession, Page } from 'playwright-core';
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
    const slow = await page.context().newCDPSession(page);
    const at = (path: string) => `${program.address}/#/trials/${path}`;
    const read = (trial: string) => compute(`${program.address}/api/trials/${trial}/readings`);

    await read('demo');
    await slow.send('Emulation.setCPUThrottlingRate', { rate: SLOWED });
    const shown = await several(RUNS, () => untilShown(page, slow, at('demo/rounds/1/read')));
    print(`reading of the demo on screen, processor slowed ${SLOWED} times, best and median of ${RUNS}:`);
    print(`  its words and numbers: ${bestAndMiddle(shown.map(({ words }) => words))}`);
    print(`  first chart drawn: ${bestAndMiddle(shown.map(({ chart }) => chart))}`);
    await slow.send('Emulation.setCPUThrottlingRate', { rate: 1 });
    const busy = await several(RUNS, () => untilShown(page, slow, at('demo/rounds/1/read')));
    const times = (rate: number, of: 'busyToWords' | 'busyToChart') =>
      bestAndMiddle(busy.map((one) => rate * one[of]));
    print(`  processor time of the page alone, times ${SLOWED}, whatever else the machine does:`);
    print(`    words ${times(SLOWED, 'busyToWords')}, first chart ${times(SLOWED, 'busyToChart')}`);

    await read(desk);
    print(
      `desk, 6 components and 8 attributes, from key to new numbers: ${ms(await seams(page, at(`${desk}/desk`)))}`,
    );

    const seconds = (await read(large)) / 1000;
    print(`trial of 20 rounds, 200 mixes, 60 tasters, 96000 answers: read in ${seconds.toFixed(1)} s`);
    for (const [what, path] of [
      ['the list of trials', ''],
      ['where it stands', large],
      ['weighing of round 20', `${large}/rounds/20/weigh`],
      ['tasting of round 20', `${large}/rounds/20/taste`],
    ] as const)
      print(
        `  ${what}: ${ms(await median(RUNS, () => heading(page, path === '' ? `${program.address}/#/` : at(path))))}`,
      );
    const reading = await several(RUNS, () => untilShown(page, slow, at(`${large}/rounds/20/read`)));
    print(`  its reading, words: ${bestAndMiddle(reading.map(({ words }) => words))}`);
    print(`  its reading, first chart drawn: ${bestAndMiddle(reading.map(({ chart }) => chart))}`);
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
  /** Milliseconds from opening an address, with nothing on the page from before. */
  words: number;
  chart: number;
  /** Of the page's own thread, in milliseconds of processor time: does not grow with what else the machine does. */
  busyToWords: number;
  busyToChart: number;
}

/** From opening a reading to its words, and to its first chart. */
async function untilShown(page: Page, session: CDPSession, address: string): Promise<Shown> {
  await page.goto('about:blank');
  await session.send('Performance.enable', { timeDomain: 'threadTicks' });
  const before = await busyTime(session);
  const began = performance.now();
  await page.goto(address);
  await page.locator('main h2').first().waitFor({ state: 'attached' });
  const words = performance.now() - began;
  const busyToWords = (await busyTime(session)) - before;
  await page.locator('.chart svg').first().waitFor({ state: 'attached' });
  const chart = performance.now() - began;
  const busyToChart = (await busyTime(session)) - before;
  await session.send('Performance.disable');
  return { words, chart, busyToWords, busyToChart };
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

function bestAndMiddle(times: readonly number[]): string {
  return `${ms(Math.min(...times))} and ${ms(middle(times))}`;
}

function middle(times: readonly number[]): number {
  return [...times].sort((a, b) => a - b)[Math.floor(times.length / 2)]!;
}

function ms(time: number): string {
  return `${time.toFixed(0)} ms`;
}
