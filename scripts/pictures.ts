/** `npm run pictures`: the README's pictures, taken from the running program with the demo trial. Build first. */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { DESK, launchChromium, openPage, Program } from '../tests/browser/program.ts';

/** The section of the reading that holds the triangle. */
const HEADING = 'How the ratios move the flavour';
const folder = join(import.meta.dirname, '../docs/pictures');
mkdirSync(folder, { recursive: true });

const program = new Program();
await program.start();
const browser = await launchChromium();
try {
  const { page } = await openPage(browser, DESK);
  await page.goto(`${program.address}/#/trials/demo/rounds/1/read`);
  await page.getByRole('button', { name: 'Read the scores' }).click();
  const flavour = page.locator('section', { has: page.getByRole('heading', { name: HEADING }) });
  await flavour.scrollIntoViewIfNeeded();
  await flavour.locator('svg.marks').waitFor();
  // The heading at the top, so that the whole triangle is in the picture.
  await flavour.evaluate((section) => section.scrollIntoView({ block: 'start' }));
  await page.waitForTimeout(3000);
  await page.screenshot({ path: join(folder, 'reading.png') });
  await page.goto(`${program.address}/#/trials/demo/next`);
  await page.getByRole('button', { name: 'Propose mixes' }).click();
  await page.getByRole('heading', { name: 'Worth making next' }).waitFor();
  await page.waitForTimeout(3000);
  await page.screenshot({ path: join(folder, 'next.png') });
} finally {
  await browser.close();
  await program.end();
}
