/** `npm run bench [-- name …]`: every bench, or those named; each is seeded and fails where its results are wrong. */
import { benchDesign } from './bench/design.ts';
import { benchFirstCup } from './bench/first-cup.ts';
import { benchMixed } from './bench/mixed.ts';
import { benchPages } from './bench/pages.ts';
import { benchReading } from './bench/reading.ts';

const BENCHES: Record<string, (print: (line: string) => void) => void | Promise<void>> = {
  mixed: benchMixed,
  reading: benchReading,
  design: benchDesign,
  'first-cup': benchFirstCup,
  pages: benchPages,
};

const asked = process.argv.slice(2);
const unknown = asked.filter((name) => !Object.hasOwn(BENCHES, name));
if (unknown.length > 0) {
  console.error(`dropwise: no bench ${unknown.join(', ')}; there are ${Object.keys(BENCHES).join(', ')}`);
  process.exit(2);
}
for (const name of asked.length > 0 ? asked : Object.keys(BENCHES)) {
  console.log(`\n# ${name}`);
  await BENCHES[name]!((line) => console.log(line));
}
