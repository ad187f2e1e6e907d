import type { Browser } from 'playwright-core';
import { launchChromium, openPage, PHONE, Program } from '../../tests/browser/program.ts';

interface Line {
  name: string;
  /** Milliseconds added to each answer. */
  latency: number;
  megabits: number;
  /** How many times slower than this machine's processor. */
  slowed: number;
  /** The longest that the first cup may take, in milliseconds; null = only told. */
  most: number | null;
}

const LINES: readonly Line[] = [
  { name: 'this machine as it is', latency: 0, megabits: 1000, slowed: 1, most: null },
  { name: 'local Wi-Fi, processor 4 times slower', latency: 20, megabits: 10, slowed: 4, most: 1000 },
  { name: 'poor mobile line, 6 times slower', latency: 150, megabits: 1.6, slowed: 6, most: 2500 },
];
const RUNS = 7;

/**
 * Time from opening a ballot link on a phone that has never seen it to the first cup on screen, in real Chromium with a
 * throttled line and processor, against the built program; median of seven, an empty cache each time. Fails where a
 * median is over its limit or where the page needs more than its own two files.
 */
export async function benchFirstCup(print: (line: string) => void): Promise<void> {
  const program = new Program();
  await program.start();
  const browser = await launchChromium();
  const failed: string[] = [];
  try {
    const link = await ballotLink(program.address);
    print('from the link to the first cup, milliseconds (median, slowest), requests, bytes on the line');
    for (const line of LINES) {
      const runs = [];
      for (let run = 0; run < RUNS; run++) runs.push(await firstCup(browser, link, line));
      const times = runs.map(({ milliseconds }) => milliseconds).sort((a, b) => a - b);
      const median = times[Math.floor(RUNS / 2)]!;
      const { requests, bytes } = runs[0]!;
      const limit = line.most === null ? '' : `, at most ${line.most}`;
      print(
        `${line.name}: ${median.toFixed(0)}${limit} (slowest ${times.at(-1)!.toFixed(0)}), ${requests} requests, ${bytes} bytes`,
      );
      if (line.most !== null && median > line.most) failed.push(line.name);
      if (requests > 3) failed.push(`${line.name}: ${requests} requests`);
    }
  } finally {
    await browser.close();
    await program.end();
  }
  if (failed.length > 0) throw new Error(`too slow: ${failed.join('; ')}`);
}

/** Opens the link in a browser that has nothing in its cache and waits until a cup is asked for. */
async function firstCup(browser: Browser, link: string, { latency, megabits, slowed }: Line) {
  const { page, context } = await openPage(browser, PHONE);
  await page.addInitScript(NOTE_FIRST_CUP);
  const line = await context.newCDPSession(page);
  await line.send('Network.enable');
  let requests = 0;
  let bytes = 0;
  line.on('Network.requestWillBeSent', () => {
    requests += 1;
  });
  line.on('Network.loadingFinished', ({ encodedDataLength }) => {
    bytes += encodedDataLength;
  });
  const throughput = (megabits * 1e6) / 8;
  await line.send('Network.emulateNetworkConditions', {
    offline: false,
    latency,
    downloadThroughput: throughput,
    uploadThroughput: throughput,
  });
  await line.send('Emulation.setCPUThrottlingRate', { rate: slowed });
  await page.goto(link, { waitUntil: 'commit' });
  await page.getByRole('button', { name: /^I have cup/ }).waitFor();
  const milliseconds = await page.evaluate(
    () => (globalThis as unknown as { firstCupAt: number }).firstCupAt,
  );
  if (!(milliseconds > 0)) throw new Error('the first cup was not seen');
  await context.close();
  return { milliseconds, requests, bytes };
}

/** Run in the page as text: notes when a cup is on screen, counted from the opening of the link. */
const NOTE_FIRST_CUP = `
  globalThis.firstCupAt = 0;
  const look = () => {
    const button = document.querySelector('button.main');
    if (button === null || !/\\d{3}/.test(button.textContent)) requestAnimationFrame(look);
    else requestAnimationFrame(() => { globalThis.firstCupAt = performance.now(); });
  };
  requestAnimationFrame(look);`;

/** A link of an open sitting whose taster has said that they may taste. */
async function ballotLink(address: string): Promise<string> {
  const call = async (path: string, body: unknown, headers: Record<string, string> = {}) => {
    const answer = await fetch(address + path, {
      method: 'POST',
      headers: { 'content-type': 'application/json', ...headers },
      body: JSON.stringify(body),
    });
    if (!answer.ok) throw new Error(`${path} answered ${answer.status}`);
    return (await answer.json()) as { sitting: string; links: { address: string }[] };
  };
  const request = { label: 'bench', assessors: ['P1'], mixes: ['m1', 'm2', 'm3', 'm4'] };
  const drawn = await call('/api/trials/demo/rounds/1/sittings', request);
  await call(`/api/trials/demo/sittings/${drawn.sitting}/opening`, {});
  const link = drawn.links[0]!.address;
  const token = { 'x-dropwise-ballot': link.split('#')[1]! };
  const ballot = await (await fetch(`${address}/api/ballot`, { headers: token })).json();
  const { version } = (ballot as { consent: { version: string } }).consent;
  await call('/api/ballot/consent', { version, mayTaste: true }, token);
  return link;
}
