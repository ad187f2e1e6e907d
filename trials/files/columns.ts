import { describeFault, type FaultList, InputFaults } from '../schema/faults.ts';
import type { Table } from './csv-table.ts';
import { parseNumber } from './number-text.ts';

/** Refuses a table that lacks columns which matter, naming all of them and what the header holds instead. */
export function requireColumns(table: Table, wanted: readonly string[], faults: FaultList): void {
  for (const column of wanted)
    if (!table.header.includes(column))
      faults.addWords(
        `${table.file}, line 1, column ${column}`,
        `no such column (the header has ${shown(table.header)})`,
        `a column ${column}`,
      );
}

/** Warnings for columns that nothing reads. */
export function unknownColumns(table: Table, known: (column: string) => boolean): string[] {
  return table.header
    .filter((column) => column !== '' && !known(column))
    .map((column) => `${table.file}, line 1, column ${column}: unknown column, passed over`);
}

/** Refuses a table without rows. */
export function requireRows(table: Table, says: string): void {
  if (table.rows.length === 0)
    throw new InputFaults([describeFault(`${table.file}, line 2`, 'no rows', says)]);
}

/**
 * Warns where one file writes some decimals with a point and others with a comma: one of the two may have been
 * meant to part thousands.
 */
export function mixedDecimals(table: Table, columns: readonly string[]): string[] {
  if (table.separator === ',') return [];
  const indices = columns.map((column) => table.header.indexOf(column)).filter((index) => index >= 0);
  const first = (sign: string) =>
    table.rows.find(({ cells }) =>
      indices.some((index) => cells[index]!.includes(sign) && parseNumber(cells[index]!, true) !== null),
    );
  const [point, comma] = [first('.'), first(',')];
  if (point === undefined || comma === undefined) return [];
  return [
    `${table.file}: decimal points (line ${point.line}) and decimal commas (line ${comma.line}) in one file; each was read as a decimal sign`,
  ];
}

function shown(header: readonly string[]): string {
  const text = header.slice(0, 20).join(', ');
  return header.length > 20 ? `${text}, ...` : text;
}
