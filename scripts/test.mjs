/** `npm test`: installs, builds, finds a browser, runs engine, HTTP and browser tests; `--long` runs the long ones. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ensureBuilt, ensureInstalled, findChromium, root, run } from './house.mjs';

const long = process.argv.includes('--long');
ensureInstalled();
ensureBuilt();
const chromium = findChromium();

const folder = mkdtempSync(join(tmpdir(), 'dropwise-test-'));
const report = join(folder, 'report.json');
const projects = long ? ['--project', 'long'] : ['--project', 'fast', '--project', 'browser'];
const vitest = join(root, 'node_modules', 'vitest', 'vitest.mjs');
const status = run(
  process.execPath,
  [vitest, 'run', ...projects, '--reporter=default', '--reporter=json', `--outputFile.json=${report}`],
  { env: { ...process.env, DROPWISE_CHROMIUM: chromium } },
);

const { numPassedTests, numFailedTests, numPendingTests } = readReport();
rmSync(folder, { recursive: true, force: true });
console.log(`${numPassedTests} passed, ${numFailedTests} failed, ${numPendingTests} skipped`);
process.exit(status === 0 && numPassedTests > 0 ? 0 : 1);

/** A runner that died before writing its report has passed nothing. */
function readReport() {
  try {
    return JSON.parse(readFileSync(report, 'utf8'));
  } catch {
    return { numPassedTests: 0, numFailedTests: 1, numPendingTests: 0 };
  }
}
