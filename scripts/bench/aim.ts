/**
 * `npm run bench:aim [-- --quick] [--worlds N] [--first SEED] [--reference] [--strong | --alone] [--save FILE]`: simulated flavour
 * worlds played by our own method and all baselines, paired. The full run plays 250 worlds with numbers as targets and
 * 60 with the reference poured.
 */
import { writeFileSync } from 'node:fs';
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
const all: WorldResult[] = [];

if (!asked.reference) await run(false, asked.worlds ? Number(asked.worlds) : FULL.numbers);
if (asked.reference || (!asked.quick && !asked.worlds))
  await run(true, asked.worlds ? Number(asked.worlds) : FULL.reference);
await reportSpeed(say, asked.quick);
if (asked.save) writeFileSync(asked.save, `${JSON.stringify(all)}\n`);

async function run(reference: boolean, count: number): Promise<void> {
  const baselines = BASELINES.slice(0, asked.alone ? 0 : asked.strong ? 2 : BASELINES.length).map(
    ({ name }) => name,
  );
  const tasks = Array.from({ length: count }, (_, i) => ({
    seed: Number(asked.first) + i,
    reference,
    baselines,
  }));
  const started = performance.now();
  let played = 0;
  const results = await playWorlds(tasks, until, () => {
    played++;
    const each = (performance.now() - started) / played;
    if (played === 2) console.error(`about ${((each * count) / 3.6e6).toFixed(1)} hours for ${count} worlds`);
    if (played % 10 === 0) console.error(`${played} of ${count} worlds`);
  });
  if (results.length === 0) throw new Error('no world was played');
  all.push(...results);
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
