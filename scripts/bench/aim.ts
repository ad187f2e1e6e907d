/**
 * `npm run bench:aim [-- --quick] [--worlds N] [--first SEED] [--reference] [--strong | --alone] [--save FILE]`: simulated flavour
 * worlds played by our own method and all baselines, paired. The full run plays 250 worlds with numbers as targets and
 * 60 with the reference poured. With `--save` every world is written as soon as it is played; the same command begun
 * again goes on with the worlds that the file does not hold yet.
 */
import { appendFileSync, existsSync, readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { playWorlds } from './aim-pool.ts';
import { reportSpeed } from './aim-speed.ts';
import { chanceTable, distanceAtLarge, mean, plainExcess, searchTables, stopTable } from './aim-tables.ts';
import { BASELINES, type WorldResult } from './aim-world.ts';

const { values: asked } = parseArgs({
  options: {
    quick: { type: 'boolean', default: false },
    strong: { type: 'boolean', default: false },
    alone: { type: 'boolean', default: false },
    reference: { type: 'boolean', default: false },
    worlds: { type: 'string' },
    first: { type: 'string', default: '1001' },
    save: { type: 'string' },
  },
});

const FULL = { numbers: 250, reference: 60 };
/** The quick run begins no world after so many milliseconds, so that it ends within three minutes. */
const QUICK = 100_000;

const say = (line: string) => console.log(line);
const begun = performance.now();
const until = asked.quick ? begun + QUICK : Number.POSITIVE_INFINITY;
const saved = asked.save && existsSync(asked.save) ? readSaved(asked.save) : [];

if (!asked.reference) await run(false, asked.worlds ? Number(asked.worlds) : FULL.numbers);
if (asked.reference || (!asked.quick && !asked.worlds))
  await run(true, asked.worlds ? Number(asked.worlds) : FULL.reference);
await reportSpeed(say, asked.quick);

function readSaved(file: string): WorldResult[] {
  return readFileSync(file, 'utf8')
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => JSON.parse(line) as WorldResult);
}

async function run(reference: boolean, count: number): Promise<void> {
  const baselines = BASELINES.slice(0, asked.alone ? 0 : asked.strong ? 2 : BASELINES.length).map(
    ({ name }) => name,
  );
  const wanted = Array.from({ length: count }, (_, i) => ({
    seed: Number(asked.first) + i,
    reference,
    baselines,
  }));
  const before = new Map(
    saved
      .filter(
        (result) => result.reference === reference && baselines.every((name) => name in result.standings),
      )
      .map((result) => [result.seed, result]),
  );
  const tasks = wanted.filter(({ seed }) => !before.has(seed));
  const started = performance.now();
  let played = 0;
  const fresh = await playWorlds(tasks, until, (result) => {
    if (asked.save) appendFileSync(asked.save, `${JSON.stringify(result)}\n`);
    played++;
    const each = (performance.now() - started) / played;
    if (played === 2)
      console.error(`about ${((each * tasks.length) / 3.6e6).toFixed(1)} hours for ${tasks.length} worlds`);
    if (played % 10 === 0) console.error(`${played} of ${tasks.length} worlds`);
  });
  const results = [...wanted.flatMap(({ seed }) => before.get(seed) ?? []), ...fresh].sort(
    (a, b) => a.seed - b.seed,
  );
  if (results.length === 0) throw new Error('no world was played');
  report(results, reference, performance.now() - started);
}

function report(results: readonly WorldResult[], reference: boolean, milliseconds: number): void {
  const seeds = `${results[0]!.seed} to ${results[results.length - 1]!.seed}`;
  const attainable = results.filter((result) => result.attainable);
  say(
    `\n# ${results.length} worlds (seeds ${seeds}), ${reference ? 'the reference poured' : 'numbers as targets'}; ${(milliseconds / 60_000).toFixed(1)} minutes`,
  );
  say(`${attainable.length} of them attainable exactly; no proposal broke a limit.`);
  say('\n## Excess distance above the best attainable, points of 100, as this panel scores');
  for (const line of searchTables(results, plainExcess)) say(line);
  if (reference) {
    say('\n## Distance for tasters at large');
    for (const line of searchTables(results, distanceAtLarge)) say(line);
  }
  if (attainable.length > 0) {
    say('\n## The same excess in attainable worlds alone');
    for (const line of searchTables(attainable, plainExcess)) say(line);
  }
  for (const where of ['anywhere', 'proposal', 'best'] as const) {
    say(`\n## Chance told at ${where === 'anywhere' ? 'ratios spread evenly' : `each ${where}`}`);
    const told = results.flatMap(({ chances }) => chances.filter((one) => one.where === where));
    for (const line of chanceTable(told)) say(line);
  }
  say('\n## Chance told, all together');
  for (const line of chanceTable(results.flatMap(({ chances }) => chances))) say(line);
  say('\n## Advice to stop');
  for (const line of stopTable(results)) say(line);
  const times = results.flatMap((result) => result.milliseconds);
  say(
    `\nFour proposals took ${(mean(times) / 1000).toFixed(2)} s on average, ${(Math.max(...times) / 1000).toFixed(2)} s at most.`,
  );
}
