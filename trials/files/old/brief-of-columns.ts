import type { Brief } from '../../schema/brief.ts';
import type { OldColumn } from '../../schema/old-tables.ts';
import type { Table } from '../csv-table.ts';
import { parseNumber } from '../number-text.ts';
import { unitOf, withoutUnit } from './column-names.ts';
import { numbersIn } from './guess-columns.ts';

/** A file with what its columns are and the names that its readers know them by. */
export interface Mapped {
  table: Table;
  columns: readonly OldColumn[];
  names: readonly string[];
}

type Draft = Pick<Brief, 'components' | 'settings' | 'attributes'>;

/**
 * A brief for a trial that begins with old data: components and settings range over what was weighed, shares to the
 * next whole percent outwards; batch and balance as the masses show them; nothing is aimed at yet. Its rules are
 * judged by `checkBrief` as every brief's.
 */
export function briefOfColumns(name: string, mixes: Mapped, scores: Mapped): Record<string, unknown> {
  return {
    format: 'brief/1',
    name,
    ...partsOf(mixes, scores),
    batch: batchOf(mixes),
    panel: panelOf(scores),
  };
}

function partsOf(mixes: Mapped, scores: Mapped): Record<keyof Draft, unknown[]> {
  const ranges = shareRanges(mixes);
  const named = ({ names, table }: Mapped, index: number) => {
    const heading = headings(table)[index]!;
    return { id: names[index]!, name: withoutUnit(heading) || names[index]! };
  };
  return {
    components: of(mixes, 'component').map((index, k) => ({ ...named(mixes, index), ...ranges[k]! })),
    settings: of(mixes, 'setting').map((index) => {
      const numbers = numbersIn(mixes.table, index) ?? [];
      const unit = unitOf(headings(mixes.table)[index]!);
      const [low, high] = numbers.length === 0 ? [0, 0] : [Math.min(...numbers), Math.max(...numbers)];
      return { ...named(mixes, index), ...(unit === undefined ? {} : { unit }), low, high };
    }),
    attributes: of(scores, 'attribute').map((index) => ({
      ...named(scores, index),
      scale: scores.columns[index]!.scale ?? [0, 100],
      // Short scales of whole numbers are asked as points, which take no halves.
      ...((numbersIn(scores.table, index) ?? []).every(Number.isInteger) ? {} : { form: 'line' }),
    })),
  };
}

function headings(table: Table): readonly string[] {
  return table.headings ?? table.header;
}

function of({ columns }: Mapped, role: OldColumn['as']): number[] {
  return columns.flatMap(({ as }, index) => (as === role ? [index] : []));
}

/** Rows of masses, as far as they can be read. */
function massesOf(mixes: Mapped): number[][] {
  const indices = of(mixes, 'component');
  const comma = mixes.table.separator !== ',';
  return mixes.table.rows.flatMap(({ cells }) => {
    const row = indices.map((index) => parseNumber(cells[index]!, comma));
    const good = row.filter((mass): mass is number => mass !== null && mass >= 0);
    return good.length === row.length && good.some((mass) => mass > 0) ? [good] : [];
  });
}

function shareRanges(mixes: Mapped): { low: number; high: number }[] {
  const shares = massesOf(mixes).map((row) => {
    const total = row.reduce((sum, mass) => sum + mass, 0);
    return row.map((mass) => mass / total);
  });
  return of(mixes, 'component').map((_, k) => {
    const own = shares.map((row) => row[k]!);
    if (own.length === 0) return { low: 0, high: 1 };
    return {
      low: Math.max(0, Math.floor(Math.min(...own) * 100) / 100),
      high: Math.min(1, Math.ceil(Math.max(...own) * 100) / 100),
    };
  });
}

/** The usual mass of a mix, in the smallest step that its masses were noted in. */
function batchOf(mixes: Mapped): Brief['batch'] {
  const indices = of(mixes, 'component');
  const decimals = mixes.table.rows.flatMap(({ cells }) =>
    indices.map((index) => /[.,](\d+)\s*$/.exec(cells[index]!)?.[1]?.length ?? 0),
  );
  const places = Math.min(4, Math.max(0, ...decimals));
  const totals = massesOf(mixes)
    .map((row) => row.reduce((sum, mass) => sum + mass, 0))
    .sort((a, b) => a - b);
  const middle = totals[Math.floor(totals.length / 2)] ?? 1;
  const readability = Number((10 ** -places).toFixed(places));
  return { grams: Math.max(readability, Number(middle.toFixed(places))), readability };
}

function panelOf(scores: Mapped): Brief['panel'] {
  const text = (cells: readonly string[], role: OldColumn['as']) =>
    of(scores, role)
      .map((index) => cells[index]!.trim())
      .join();
  const tally = (key: (cells: readonly string[]) => string) => {
    const counts = new Map<string, number>();
    for (const { cells } of scores.table.rows) counts.set(key(cells), (counts.get(key(cells)) ?? 0) + 1);
    return counts;
  };
  const cups = tally((cells) => JSON.stringify([text(cells, 'assessor'), text(cells, 'session')]));
  const times = tally((cells) =>
    JSON.stringify([text(cells, 'assessor'), text(cells, 'session'), text(cells, 'mix')]),
  );
  const most = (counts: Map<string, number>, ceiling: number) =>
    Math.min(ceiling, Math.max(1, ...counts.values()));
  return {
    assessors: Math.min(1000, Math.max(1, tally((cells) => text(cells, 'assessor')).size)),
    cupsPerSitting: most(cups, 100),
    replicates: most(times, 20),
  };
}
