import type { Page } from 'playwright-core';
import { DESK, launchChromium, openPage, Program } from '../../tests/browser/program.ts';
import type { Job } from '../../trials/schema/api.ts';
import { openStore } from '../../trials/store/store.ts';
import { playTrial, type TrialSize } from './played-trial.ts';

type Print = (line: string) => void;

const DESK_TRIAL: TrialSize = { components: 6, attributes: 8, tasters: 6, rounds: 2, mixes: 12 };
const LARGE_TRIAL: TrialSize = { components: 6, attributes: 8, tasters: 60, rounds: 20, mixes: 10 };
/** What a slow laptop or tablet is beside this machine. */
const SLOWED = 4;
const RUNS = 5;

/** How long pages take in a real browser on the built workbench; `npm run build` first. */
export async function benchPages(print: Print): Promise<void> {
  const program = new Program();
  const store = openStore(program.folder);
  const context = { store, who: 'maker', now: () => new Date() };
  const desk = playTrial(context, DESK_TRIAL);
  const large = playTrial(context, LARGE_TRIAL);
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
    const shown = await median(RUNS, () => firstChart(page, at('demo/rounds/1/read')));
    print(`reading of the demo on screen, first chart drawn, processor slowed ${SLOWED} times: ${ms(shown)}`);
    await slow.send('Emulation.setCPUThrottlingRate', { rate: 1 });

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
    print(
      `  its reading, first chart drawn: ${ms(await median(RUNS, () => firstChart(page, at(`${large}/rounds/20/read`))))}`,
    );
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

/** From opening an address to the first chart, with nothing kept from before; milliseconds. */
async function firstChart(page: Page, address: string): Promise<number> {
  await page.goto('about:blank');
  const began = performance.now();
  await page.goto(address);
  await page.locator('.chart svg, .chart canvas').first().waitFor();
  return performance.now() - began;
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
  const times: number[] = [];
  for (let run = 0; run < runs; run++) times.push(await take());
  return middle(times);
}

function middle(times: readonly number[]): number {
  return [...times].sort((a, b) => a - b)[Math.floor(times.length / 2)]!;
}

function ms(time: number): string {
  return `${time.toFixed(0)} ms`;
}
