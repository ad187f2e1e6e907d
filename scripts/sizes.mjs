/** `npm run check:sizes`: what a first visit loads in the production build, compressed, against its budget. */
import { readFileSync } from 'node:fs';
import { join, posix } from 'node:path';
import { gzipSync } from 'node:zlib';
import { ensureBuilt, ensureInstalled, must, root } from './house.mjs';

/** kB of script (the ballot: script and style) that a page may load before it shows anything. */
const BUDGETS = [
  { page: 'index.html', what: 'workbench without charts', kinds: ['.js'], most: 120 },
  { page: 'ballot.html', what: 'ballot', kinds: ['.js', '.css'], most: 30 },
];

ensureInstalled();
ensureBuilt();
const pages = join(root, 'dist/pages');
let over = 0;
for (const { page, what, kinds, most } of BUDGETS) {
  const files = loadedFirst(page).filter((file) => kinds.some((kind) => file.endsWith(kind)));
  must(files.length > 0 ? 0 : 1, `${page} loads nothing that could be measured`);
  const size = files.reduce((sum, file) => sum + gzipSync(readFileSync(join(pages, file))).length, 0) / 1000;
  console.log(`${what}: ${size.toFixed(1)} kB in ${files.length} files, at most ${most} kB`);
  if (size > most) over++;
}
must(over === 0 ? 0 : 1, 'a page has outgrown its budget');

/** Files that the page names, and those that their scripts import before they run; imports on demand are not among them. */
function loadedFirst(page) {
  const html = readFileSync(join(pages, page), 'utf8');
  const named = [...html.matchAll(/(?:src|href)="\/?([^"#:]+\.(?:js|css))"/g)].map(([, file]) => file);
  const found = new Set();
  const follow = (file) => {
    if (found.has(file)) return;
    found.add(file);
    if (!file.endsWith('.js')) return;
    const text = readFileSync(join(pages, file), 'utf8');
    for (const [, to] of text.matchAll(/(?:\bimport|\bfrom)\s*["'](\.[^"']+\.js)["']/g))
      follow(posix.join(posix.dirname(file), to));
  };
  named.forEach(follow);
  return [...found];
}
