import Papa from 'papaparse';
import { describeFault, type FaultList, InputFaults } from '../schema/faults.ts';
import { lineAt } from './text.ts';

const SEPARATORS = ['\t', ';', ','] as const;
type Separator = (typeof SEPARATORS)[number];

/** One row with the line of the file on which it starts (header = 1). */
export interface TableRow {
  line: number;
  cells: readonly string[];
}

/** A table as text: names of its columns, rows as long as the header. */
export interface Table {
  file: string;
  separator: Separator;
  header: readonly string[];
  rows: readonly TableRow[];
  /** What the file calls its columns, where `header` calls them otherwise. */
  headings?: readonly string[];
}

/** The same table with other names over its columns; faults go on naming them as the file does. */
export function renameColumns(table: Table, header: readonly string[]): Table {
  return { ...table, header, headings: table.headings ?? table.header };
}

/** A column's name as the file has it. */
export function headingOf({ header, headings }: Table, column: string): string {
  return headings?.[header.indexOf(column)] ?? column;
}

/**
 * Splits CSV text into a table. The separator (tab, semicolon or comma) is the one under which the header holds
 * most of the `expected` columns, then most columns at all. Rows of nothing are passed over; rows too short or too
 * long are added to `faults` and left out. RFC 4180 quoting; line numbers are those of the file also where quoted
 * cells hold line breaks.
 *
 * @throws InputFaults where there is no table to go on with: no header, a repeated column, broken quotes
 */
export function readTable(
  text: string,
  file: string,
  expected: (column: string) => boolean,
  faults: FaultList,
): Table {
  const separator = detectSeparator(text, expected);
  const [first, ...rest] = splitRows(text, separator, file);
  if (first === undefined)
    throw new InputFaults([describeFault(file, 'no line', 'a line of column names, then rows')]);
  const header = first.cells.map((name) => name.trim());
  refuseHeader(header, file, first.line);
  const rows = rest.filter((row) => hasLength(row, header.length, file, faults));
  return { file, separator, header, rows };
}

function detectSeparator(text: string, expected: (column: string) => boolean): Separator {
  const head = text.slice(0, 100_000);
  const scored = SEPARATORS.map((separator) => {
    const parsed = Papa.parse<string[]>(head, {
      delimiter: separator,
      newline: '\n',
      preview: 1,
      skipEmptyLines: 'greedy',
    });
    const cells = parsed.data[0] ?? [];
    return { separator, known: cells.filter((cell) => expected(cell.trim())).length, cells: cells.length };
  });
  scored.sort((a, b) => b.known - a.known || b.cells - a.cells);
  const best = scored[0]!;
  return best.cells > 1 ? best.separator : ',';
}

function splitRows(text: string, separator: Separator, file: string): TableRow[] {
  const rows: TableRow[] = [];
  let start = 0;
  let line = 1;
  Papa.parse<string[]>(text, {
    delimiter: separator,
    newline: '\n',
    step: ({ data, errors, meta }) => {
      const broken = errors.find(({ type }) => type === 'Quotes');
      if (broken !== undefined)
        throw new InputFaults([
          describeFault(
            `${file}, line ${line}`,
            'a quote that is not closed or not followed by a separator',
            'cells in double quotes closed before the next separator, quotes inside doubled',
          ),
        ]);
      if (data.some((cell) => cell.trim() !== '')) rows.push({ line, cells: data });
      line += lineAt(text.slice(start, meta.cursor), Number.POSITIVE_INFINITY) - 1;
      start = meta.cursor;
    },
  });
  return rows;
}

function refuseHeader(header: readonly string[], file: string, line: number): void {
  const seen = new Set<string>();
  for (const name of header) {
    if (name !== '' && seen.has(name))
      throw new InputFaults([
        describeFault(`${file}, line ${line}, column ${name}`, 'the column twice', 'each column once'),
      ]);
    if (/[\p{Cc}]/u.test(name))
      throw new InputFaults([
        describeFault(`${file}, line ${line}, column ${name}`, 'a control character', 'plain column names'),
      ]);
    seen.add(name);
  }
}

function hasLength(row: TableRow, length: number, file: string, faults: FaultList): boolean {
  if (row.cells.length === length) return true;
  const shown = row.cells.length > length ? row.cells[length]! : row.cells.at(-1)!;
  faults.addWords(
    `${file}, line ${row.line}, column ${Math.min(row.cells.length, length + 1)}`,
    `${count(row.cells.length)} (${row.cells.length > length ? 'one too many is' : 'the last is'} ${JSON.stringify(shown)})`,
    `${count(length)}, as the header has`,
  );
  return false;
}

function count(cells: number): string {
  return cells === 1 ? '1 cell' : `${cells} cells`;
}
