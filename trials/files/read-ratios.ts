import type { Brief } from '../schema/brief.ts';
import { FaultList } from '../schema/faults.ts';
import { mixedDecimals, requireColumns, requireRows, unknownColumns } from './columns.ts';
import { readTable } from './csv-table.ts';
import { type NumberRule, RowReader } from './row-reader.ts';

/** How far proportions may be from a sum of 1. */
const SUM_SLACK = 1e-6;

/** A point to be predicted: shares and settings in the order of the brief. */
export interface RatioRow {
  name: string;
  shares: readonly number[];
  settings: readonly number[];
}

export interface RatiosRead {
  rows: RatioRow[];
  warnings: string[];
}

/**
 * Reads `ratios.csv`: a column per component (proportions that sum to 1, or grams where a column `unit` says `g`),
 * one per setting, optionally `name` (else `row 2` and so on, after the line).
 *
 * @throws InputFaults with line, column, found and allowed for everything wrong
 */
export function readRatios(text: string, file: string, brief: Brief): RatiosRead {
  const faults = new FaultList();
  const ids = [...brief.components, ...brief.settings].map(({ id }) => id);
  const known = (column: string) => column === 'name' || column === 'unit' || ids.includes(column);
  const table = readTable(text, file, known, faults);
  requireColumns(table, ids, faults);
  faults.throwIfAny();
  requireRows(table, 'a row for each ratio');
  const readers = table.rows.map((row) => new RowReader(table, row, faults));
  const rows = readers.map((row) => readRatio(row, brief)).filter((row): row is RatioRow => row !== null);
  faults.throwIfAny();
  const warnings = [
    ...unknownColumns(table, known),
    ...mixedDecimals(table, ids),
    ...rows.flatMap((row, index) => outside(row, brief, readers[index]!)),
  ];
  return { rows, warnings };
}

function readRatio(row: RowReader, brief: Brief): RatioRow | null {
  const name = row.nameIfAny('name') ?? `row ${row.line}`;
  const unit = row.text('unit').trim();
  if (unit !== '' && unit !== 'g') row.fault('unit', unit, 'g for grams, or nothing for proportions');
  const rule: NumberRule =
    unit === 'g'
      ? { least: 0, most: 1e9, says: 'a mass in grams, 0 or more' }
      : {
          least: 0,
          most: 1 + SUM_SLACK,
          says: 'a proportion from 0 to 1 (grams need a column unit that says g)',
        };
  const parts = brief.components.map(({ id }) => row.number(id, rule));
  const settings = brief.settings.map(({ id }) => row.number(id, { says: 'a number' }));
  if (parts.includes(null) || settings.includes(null)) return null;
  const shares = toShares(parts as number[], unit === 'g', row, brief);
  return shares === null ? null : { name, shares, settings: settings as number[] };
}

function toShares(parts: readonly number[], grams: boolean, row: RowReader, brief: Brief): number[] | null {
  const total = parts.reduce((sum, part) => sum + part, 0);
  const column = brief.components[0]!.id;
  if (grams && total <= 0) {
    row.faultWords(column, 'masses that are all zero', 'at least one mass above 0');
    return null;
  }
  if (!grams && Math.abs(total - 1) > SUM_SLACK) {
    row.faultWords(
      column,
      `proportions that sum to ${Number(total.toPrecision(12))}`,
      'a sum of 1 within 0.000001, or grams with a column unit that says g',
    );
    return null;
  }
  return Math.abs(total - 1) < 1e-12 ? [...parts] : parts.map((part) => part / total);
}

function outside({ settings }: RatioRow, brief: Brief, row: RowReader): string[] {
  return brief.settings.flatMap(({ id, low, high }, index) =>
    settings[index]! < low || settings[index]! > high
      ? [`${row.place(id)}: ${settings[index]} lies outside ${low} to ${high}`]
      : [],
  );
}
