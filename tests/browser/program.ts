import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright-core';

const root = join(import.meta.dirname, '../..');

/** The built workbench in a process of its own, on a data folder of its own. */
export class Program {
  readonly folder = mkdtempSync(join(tmpdir(), 'dropwise-browser-'));
  /** Options beside the port and the data, as `npm start` takes them. */
  options: readonly string[] = [];
  address = '';
  #process: ChildProcess | null = null;

  /** Starts on a free port, or on the port it had before. */
  async start(): Promise<void> {
    const port = this.address === '' ? '0' : new URL(this.address).port;
    const args = [
      join(root, 'dist/web/server/start.js'),
      '--port',
      port,
      '--data',
      this.folder,
      ...this.options,
    ];
    const child = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'pipe'] });
    this.#process = child;
    this.address = await new Promise((resolve, reject) => {
      let said = '';
      const hear = (chunk: Buffer) => {
        said += chunk;
        const found = /https?:\/\/\S+?:\d+/.exec(said);
        if (found) resolve(found[0]);
      };
      child.stdout.on('data', hear);
      child.stderr.on('data', hear);
      child.on('exit', (code) => reject(new Error(`the workbench ended with ${code}: ${said}`)));
    });
  }

  /** Ends the process without warning. */
  async kill(): Promise<void> {
    const child = this.#process;
    this.#process = null;
    if (!child || child.exitCode !== null) return;
    const gone = new Promise((resolve) => child.once('exit', resolve));
    child.kill('SIGKILL');
    await gone;
  }

  async end(): Promise<void> {
    await this.kill();
    rmSync(this.folder, { recursive: true, force: true });
  }
}

/** A real Chromium; without the flags it knocks at addresses of its own. `flags` come on top. */
export function launchChromium(flags: readonly string[] = []): Promise<Browser> {
  return chromium.launch({
    executablePath: process.env.DROPWISE_CHROMIUM ?? '/usr/bin/chromium',
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
      ...flags,
    ],
  });
}

export const DESK = { width: 1440, height: 900 };
export const PHONE = { width: 390, height: 844 };

/** A page of its own browser context whose console errors are collected; `expected` ones (a lost network) are not. */
export async function openPage(
  browser: Browser,
  viewport: { width: number; height: number },
  expected = /^$/,
) {
  const context = await browser.newContext({ viewport });
  const page = await context.newPage();
  const errors: string[] = [];
  page.on('pageerror', (error) => errors.push(error.message));
  page.on('console', (message) => {
    // A chart that is asked for what it does not have warns; the browser's own advice is no fault of the page.
    const isFault =
      message.type() === 'error' || (message.type() === 'warning' && /^WARN/.test(message.text()));
    if (isFault && !expected.test(message.text())) errors.push(message.text());
  });
  return { page, context, errors };
}

/** Everything a page receives, as one text. */
export function recordTraffic(page: Page): () => Promise<string> {
  const parts: Promise<string>[] = [];
  page.on('response', (response) => {
    const body = response.text().catch(() => '');
    const headers = response.allHeaders().catch(() => ({}));
    parts.push(
      Promise.all([body, headers]).then(([b, h]) => `${response.url()}\n${JSON.stringify(h)}\n${b}`),
    );
  });
  return async () => (await Promise.all(parts)).join('\n');
}
