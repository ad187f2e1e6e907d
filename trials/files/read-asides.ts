import type { AsideAnswer } from '../../engine/panel/asides/aside-types.ts';
import type { PairCount } from '../../engine/panel/asides/read-pairs.ts';
import { unguarded } from '../schema/csv-text.ts';
import { FaultList } from '../schema/faults.ts';
import { requireColumns, requireRows, unknownColumns } from './columns.ts';
import { readTable } from './csv-table.ts';
import { RowReader } from './row-reader.ts';

const COUNT = { least: 0, most: 1e6, whole: true, says: 'a whole number of 0 or more' };
const PLACE = { least: 1, most: 1000, whole: true, says: 'a place in the order, 1 = least' };

interface Rows<T> {
  rows: T[];
  warnings: string[];
}

/** Reads a small table by its columns. @throws InputFaults with line, column, found and allowed */
function rowsOf<T>(
  { text, file }: { text: string; file: string },
  { needs, may = [] }: { needs: readonly string[]; may?: readonly string[] },
  read: (row: RowReader) => T | null,
): Rows<T> {
  const faults = new FaultList();
  const known = (column: string) => needs.includes(column) || may.includes(column);
  const table = readTable(text, file, known, faults);
  requireColumns(table, needs, faults);
  faults.throwIfAny();
  requireRows(table, 'a row for each answer');
  const rows = table.rows.map((row) => read(new RowReader(table, row, faults)));
  faults.throwIfAny();
  return {
    rows: rows.filter((row): row is NonNullable<typeof row> => row !== null),
    warnings: unknownColumns(table, known),
  };
}

/** `ranks.csv`: `assessor`, `mix`, `place` (1 = least, equal places allowed), optionally `session`. */
export function readRanks(text: string, file: string): Rows<AsideAnswer> {
  const once = onceEach();
  return rowsOf({ text, file }, { needs: ['assessor', 'mix', 'place'], may: ['session'] }, (row) => {
    const [assessor, mix, session] = [row.name('assessor'), row.name('mix'), row.nameIfAny('session')];
    const place = row.number('place', PLACE);
    if (assessor === null || mix === null || place === null) return null;
    once(row, [assessor, session, mix]);
    return { question: 'ranks', assessor, session, replicate: null, mix, value: place };
  });
}

/** `words.csv`: `assessor`, `mix`, `words` (parted by commas), optionally `session`; nothing = no word. */
export function readWordsTable(text: string, file: string): Rows<AsideAnswer> {
  return rowsOf({ text, file }, { needs: ['assessor', 'mix', 'words'], may: ['session'] }, (row) => {
    const [assessor, mix, session] = [row.name('assessor'), row.name('mix'), row.nameIfAny('session')];
    if (assessor === null || mix === null) return null;
    const value = unguarded(row.text('words'));
    return { question: 'words', assessor, session, replicate: null, mix, value };
  });
}

/** `pairs.csv`: `first`, `second`, `firstChosen`, `secondChosen`, optionally `neither`; a row a pair or an answer. */
export function readPairsTable(text: string, file: string): Rows<PairCount> {
  const needs = ['first', 'second', 'firstChosen', 'secondChosen'];
  return rowsOf({ text, file }, { needs, may: ['neither'] }, (row) => {
    const [first, second] = [row.name('first'), row.name('second')];
    const [firstChosen, secondChosen] = [row.number('firstChosen', COUNT), row.number('secondChosen', COUNT)];
    const neither = row.numberIfAny('neither', COUNT) ?? 0;
    if (first === null || second === null || firstChosen === null || secondChosen === null) return null;
    if (first === second) row.fault('second', second, 'another mix than the first');
    return { first, second, firstChosen, secondChosen, neither };
  });
}

/** `picks.csv`: `mix`, `count`: how many picked it as the one they want. */
export function readPicksTable(text: string, file: string): Rows<{ mix: string; count: number }> {
  const once = onceEach();
  return rowsOf({ text, file }, { needs: ['mix', 'count'] }, (row) => {
    const [mix, count] = [row.name('mix'), row.number('count', COUNT)];
    if (mix === null || count === null) return null;
    once(row, [mix]);
    return { mix, count };
  });
}

/** Refuses a second row about the same, naming the first. */
function onceEach(): (row: RowReader, parts: readonly (string | null)[]) => void {
  const first = new Map<string, number>();
  return (row, parts) => {
    const key = JSON.stringify(parts);
    const earlier = first.get(key);
    if (earlier === undefined) first.set(key, row.line);
    else row.fault('mix', parts.filter((part) => part !== null).join(', '), `once (line ${earlier} has it)`);
  };
}
