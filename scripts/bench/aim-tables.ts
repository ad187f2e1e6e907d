import { betaQuantile } from '../../engine/numeric/binomial.ts';
import { studentQuantile } from '../../engine/numeric/student.ts';
import { STAGES } from '../../tests/worlds/play.ts';
import type { ToldChance, WorldResult } from './aim-world.ts';

const OURS = 'dropwise';
/** Points of 100 above the best attainable within which a world counts as won. */
const WITHIN = [5, 3] as const;

/** Excess, shares, mixes until, grams and cups of every method, then paired differences from ours. */
export function searchTables(results: readonly WorldResult[], excessOf = plainExcess): string[] {
  const names = Object.keys(results[0]!.standings);
  return [
    `| method | ${STAGES.map((n) => `after ${n}`).join(' | ')} | ${STAGES.map((n) => `≤ 5 after ${n}`).join(' | ')} | ≤ 3 after 20 | mixes until ≤ 5 (median) | never | grams until | cups until |`,
    `|---|${'---|'.repeat(2 * STAGES.length + 5)}`,
    ...names.map((name) => methodRow(results, name, excessOf)),
    '',
    `| ours minus … (mean, 95 % interval) | ${STAGES.map((n) => `after ${n}`).join(' | ')} |`,
    `|---|${'---|'.repeat(STAGES.length)}`,
    ...names
      .filter((name) => name !== OURS)
      .map((name) => {
        const cells = STAGES.map((_, s) => {
          return difference(results.map((r) => excessOf(r, OURS, s) - excessOf(r, name, s)));
        });
        return `| ${name} | ${cells.join(' | ')} |`;
      }),
  ];
}

export function plainExcess(result: WorldResult, name: string, stage: number): number {
  return result.standings[name]![stage]!.excess;
}

/** The distance for tasters at large, where a reference is poured. */
export function distanceAtLarge(result: WorldResult, name: string, stage: number): number {
  return result.standings[name]![stage]!.atLarge!;
}

function methodRow(results: readonly WorldResult[], name: string, excessOf: typeof plainExcess): string {
  const at = (stage: number) => results.map((r) => excessOf(r, name, stage));
  const share = (stage: number, within: number) => {
    const won = at(stage).filter((excess) => excess <= within).length;
    return `${Math.round((100 * won) / results.length)} %`;
  };
  const first = results.map((r) => STAGES.findIndex((_, s) => excessOf(r, name, s) <= WITHIN[0]));
  const won = first.filter((s) => s >= 0).length;
  const sorted = first.map((s) => (s < 0 ? Number.POSITIVE_INFINITY : s)).sort((a, b) => a - b);
  const middle = sorted[Math.floor((sorted.length - 1) / 2)]!;
  const median = Number.isFinite(middle) ? String(STAGES[middle]) : `over ${STAGES[STAGES.length - 1]}`;
  const spent = (what: 'grams' | 'cups') => {
    return mean(
      results.map((r, w) => r.standings[name]![first[w]! < 0 ? STAGES.length - 1 : first[w]!]![what]),
    );
  };
  const excess = STAGES.map((_, s) => mean(at(s)).toFixed(2));
  const five = STAGES.map((_, s) => share(s, WITHIN[0]));
  return `| ${name} | ${[...excess, ...five, share(STAGES.length - 1, WITHIN[1])].join(' | ')} | ${median} | ${results.length - won} of ${results.length} | ${spent('grams').toFixed(0)} | ${spent('cups').toFixed(0)} |`;
}

/** Mean and 95 % interval (Student) of paired differences. */
function difference(values: readonly number[]): string {
  const m = mean(values);
  if (values.length < 2) return m.toFixed(2);
  const variance = values.reduce((sum, v) => sum + (v - m) ** 2, 0) / (values.length - 1);
  const half = studentQuantile(0.975, values.length - 1) * Math.sqrt(variance / values.length);
  return `${m.toFixed(2)} (${(m - half).toFixed(2)} to ${(m + half).toFixed(2)})`;
}

/** Ten bins of told chances with exact 99 % bands (Clopper and Pearson 1934), Brier score and slope. */
export function chanceTable(told: readonly ToldChance[]): string[] {
  const bins = Array.from({ length: 10 }, (_, b) =>
    told.filter(({ chance }) => Math.min(9, Math.floor(10 * chance)) === b),
  );
  const rows = bins.map((bin, b) => {
    const n = bin.length;
    if (n === 0) return `| ${10 * b}–${10 * b + 10} | 0 | | | | |`;
    const k = bin.filter(({ matches }) => matches).length;
    const [low, high] = exactBand(k, n, 0.99);
    const says = 100 * mean(bin.map(({ chance }) => chance));
    const off = Math.max(0, 100 * low - says, says - 100 * high);
    return `| ${10 * b}–${10 * b + 10} | ${n} | ${says.toFixed(1)} | ${((100 * k) / n).toFixed(1)} | ${(100 * low).toFixed(1)} to ${(100 * high).toFixed(1)} | ${off.toFixed(1)} |`;
  });
  const brier = mean(told.map(({ chance, matches }) => (chance - Number(matches)) ** 2));
  return [
    '| told (in 100) | times | told on average | matched | 99 % band | off by |',
    '|---|---|---|---|---|---|',
    ...rows,
    '',
    `Brier score ${brier.toFixed(4)} (always the mean: ${spread(told.map(({ matches }) => Number(matches))).toFixed(4)}); slope of matched on told ${slope(told).toFixed(2)}.`,
  ];
}

function exactBand(k: number, n: number, level: number): [number, number] {
  const tail = (1 - level) / 2;
  return [k === 0 ? 0 : betaQuantile(tail, k, n - k + 1), k === n ? 1 : betaQuantile(1 - tail, k + 1, n - k)];
}

function slope(told: readonly ToldChance[]): number {
  const x = told.map(({ chance }) => chance);
  const mx = mean(x);
  const my = mean(told.map(({ matches }) => Number(matches)));
  const products = told.reduce((sum, { chance, matches }) => sum + (chance - mx) * (Number(matches) - my), 0);
  return products / (x.length * spread(x) || 1);
}

function spread(values: readonly number[]): number {
  const m = mean(values);
  return mean(values.map((v) => (v - m) ** 2));
}

/** What became of the advice to stop. */
export function stopTable(results: readonly WorldResult[]): string[] {
  const kinds: [string, RegExp][] = [
    ['as high as this panel can show', /and a mix like it has been tasted/],
    ['out of reach', /out of reach/],
    ['little more to gain', /less than this panel can taste/],
  ];
  const stops = results.flatMap(({ stops: own, attainable }) => {
    const first = own.find(({ advised }) => advised);
    return first ? [{ ...first, attainable }] : [];
  });
  const row = (title: string, some: typeof stops) => {
    const share = (holds: (one: (typeof stops)[number]) => boolean) =>
      some.length === 0 ? '' : `${some.filter(holds).length} of ${some.length}`;
    const excess = some.length === 0 ? '' : mean(some.map((one) => one.excess)).toFixed(2);
    return `| ${title} | ${some.length} | ${share((one) => one.matches)} | ${share((one) => one.attainable)} | ${excess} |`;
  };
  return [
    '| first advice to stop because … | worlds | matched then | in attainable worlds | excess then |',
    '|---|---|---|---|---|',
    ...kinds.map(([title, says]) =>
      row(
        title,
        stops.filter(({ because }) => says.test(because)),
      ),
    ),
    `| never advised | ${results.length - stops.length} | | | |`,
  ];
}

export function mean(list: readonly number[]): number {
  return list.reduce((a, b) => a + b, 0) / list.length;
}
