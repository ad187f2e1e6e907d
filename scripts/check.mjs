/** `npm run check`: types, lint and format, layers and cycles, unused files and exports, sizes of the pages. */
import { ensureInstalled, must, run } from './house.mjs';

ensureInstalled();
const checks = [
  ['check:types', 'types'],
  ['check:lint', 'lint and format'],
  ['check:layers', 'layers and cycles'],
  ['check:unused', 'unused files and exports'],
  ['check:sizes', 'sizes of the pages'],
];
for (const [script, what] of checks) {
  must(
    run('npm', ['run', '--silent', script], { shell: process.platform === 'win32' }),
    `${what}: not clean`,
  );
  console.log(`${what}: clean`);
}
