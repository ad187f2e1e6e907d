import type { Browser } from 'playwright-core';
import { afterAll, beforeAll } from 'vitest';
import { launchChromium, Program } from './program.ts';

/** A program and a browser for the tests of one file. */
export interface Stage {
  readonly program: Program;
  /** There from the first test on. */
  readonly browser: Browser;
}

/**
 * Starts program and browser before the first test of a file, and ends both after the last.
 * @param layOut fills the program's data before it starts
 * @param flags of the browser, beside the usual ones
 */
export function setStage(
  layOut: (program: Program) => void = () => undefined,
  flags: readonly string[] = [],
): Stage {
  const program = new Program();
  let browser: Browser | null = null;
  beforeAll(async () => {
    layOut(program);
    await program.start();
    browser = await launchChromium(flags);
  });
  afterAll(async () => {
    await browser?.close();
    await program.end();
  });
  return {
    program,
    get browser() {
      if (browser === null) throw new Error('the browser is there once the first test begins');
      return browser;
    },
  };
}
