import type { AsideAnswer } from '../../engine/panel/asides/aside-types.ts';
import { type Attribute, REFERENCE, type Serving, WARMUP } from '../../engine/panel/observations.ts';
import type { Brief } from '../schema/brief.ts';
import { unguarded } from '../schema/csv-text.ts';
import { toAttributes } from '../schema/engine-shapes.ts';
import { describeFault, FaultList, InputFaults } from '../schema/faults.ts';
import { mixedDecimals, requireColumns, requireRows, unknownColumns } from './columns.ts';
import { readTable, type Table } from './csv-table.ts';
import { parseNumber } from './number-text.ts';
import { RowReader } from './row-reader.ts';

const PLACES = ['mix', 'assessor', 'session', 'replicate', 'position'];

export interface ScoresRead {
  /** The brief's attributes, or without a brief every column of numbers. */
  attributes: Attribute[];
  servings: Serving[];
  /** What was asked beside the scales, where the brief asks for it and the table has its columns. */
  asides: AsideAnswer[];
  warnings: string[];
}

/** What scores are judged against: both may be absent, as for `panel scores.csv` alone. */
export interface ScoresContext {
  brief?: Brief | undefined;
  /** Names in mixes.csv, of which every mix scored must be one. */
  mixes?: readonly string[] | undefined;
  /** What the file of the mixes is called, `mixes.csv` where nothing is said. */
  mixesFile?: string;
  /** The column that holds how many hours a cup's bottle had stood, where one does. */
  age?: string | undefined;
}

/**
 * Reads `scores.csv`: what was tasted. Columns `mix`, `assessor`, `session`, `replicate`, `position` and one per
 * attribute; an empty cell is a missing score. With a brief, scores must lie on their scales; without one, every
 * other column whose non-empty cells are all numbers is an attribute.
 *
 * @throws InputFaults with line, column, found and allowed for everything wrong
 */
export function readScores(text: string, file: string, context: ScoresContext): ScoresRead {
  const faults = new FaultList();
  return scoresOf(readTable(text, file, knownColumns(context), faults), context, faults);
}

function knownColumns({ brief, age }: ScoresContext): (column: string) => boolean {
  const asked = brief ? [...brief.attributes, ...brief.asides].map(({ id }) => id) : [];
  return (column) => PLACES.includes(column) || asked.includes(column) || column === age;
}

/** The scores of a table that has been split already; `faults` holds what was wrong with it so far. */
export function scoresOf(table: Table, context: ScoresContext, faults: FaultList): ScoresRead {
  requireColumns(table, ['mix', 'assessor', ...(context.age === undefined ? [] : [context.age])], faults);
  refuseAge(table, context, faults);
  faults.throwIfAny();
  requireRows(table, 'a row for each cup');
  const found = context.brief ? ofBrief(table, context.brief) : ofNumbers(table, context.age);
  const rows = table.rows.map((row) => new RowReader(table, row, faults));
  const servings: Serving[] = [];
  const asides: AsideAnswer[] = [];
  for (const row of rows) {
    const serving = readServing(row, found.attributes, context.age);
    if (serving === null) continue;
    servings.push(serving);
    for (const aside of context.brief?.asides ?? []) asides.push(...readAside(row, aside, serving));
  }
  refuseUnknownMixes(rows, context, faults);
  refuseTwice(rows, faults);
  faults.throwIfAny();
  const unknown = context.brief ? unknownColumns(table, knownColumns(context)) : [];
  const decimals = mixedDecimals(
    table,
    found.attributes.map(({ id }) => id),
  );
  const warnings = [...unknown, ...found.warnings, ...decimals];
  return { attributes: found.attributes, servings, asides, warnings };
}

/** The column of ages is no place, no question and no attribute of the brief. */
function refuseAge(table: Table, { age, brief }: ScoresContext, faults: FaultList): void {
  if (age === undefined) return;
  const taken = [...PLACES, ...(brief ? [...brief.attributes, ...brief.asides].map(({ id }) => id) : [])];
  if (taken.includes(age)) faults.addWords(`--age, ${table.file}`, age, 'a column of its own');
}

interface Attributes {
  attributes: Attribute[];
  warnings: string[];
}

function ofBrief(table: Table, brief: Brief): Attributes {
  const attributes = toAttributes(brief);
  const missing = attributes.filter(({ id }) => !table.header.includes(id));
  if (missing.length === attributes.length) refuseNoAttribute(table, missing.map(({ id }) => id).join(', '));
  const warnings = missing.map(({ id }) => `${table.file}: no column ${id}; nobody has scored it`);
  return { attributes, warnings };
}

function ofNumbers(table: Table, age: string | undefined): Attributes {
  const attributes: Attribute[] = [];
  const warnings: string[] = [];
  table.header.forEach((column, index) => {
    if (column === '' || PLACES.includes(column) || column === age) return;
    const stranger = table.rows.find(({ cells }) => !isScore(cells[index]!, table));
    if (stranger === undefined)
      attributes.push({ id: column, scale: null, target: null, tolerance: 0, weight: 1 });
    else
      warnings.push(
        `${table.file}, line ${stranger.line}, column ${column}: ${JSON.stringify(stranger.cells[index])} is no number, so the column is passed over`,
      );
  });
  if (attributes.length === 0)
    refuseNoAttribute(table, `any name but ${PLACES.join(', ')}, holding numbers only`, warnings);
  return { attributes, warnings };
}

function isScore(cell: string, table: Table): boolean {
  return cell.trim() === '' || parseNumber(cell, table.separator !== ',') !== null;
}

function refuseNoAttribute(table: Table, names: string, why: readonly string[] = []): never {
  const found = why.length === 0 ? 'no column of scores' : `no column of scores (${why.join('; ')})`;
  throw new InputFaults([
    describeFault(`${table.file}, line 1`, found, `at least one column for an attribute: ${names}`),
  ]);
}

function readServing(
  row: RowReader,
  attributes: readonly Attribute[],
  age: string | undefined,
): Serving | null {
  const mix = row.name('mix');
  const assessor = row.name('assessor');
  const session = row.nameIfAny('session');
  const replicate = row.nameIfAny('replicate');
  const position = row.numberIfAny('position', {
    least: 1,
    most: 1e6,
    whole: true,
    says: 'a whole number, 1 = first cup',
  });
  const scores = attributes.map(({ id, scale }) =>
    row.numberIfAny(id, scale === null ? { says: 'a number' } : onScale(scale)),
  );
  const hours = age === undefined ? undefined : row.numberIfAny(age, { least: 0, says: 'hours, 0 or more' });
  if (mix === null || assessor === null) return null;
  return {
    ...{ mix, assessor, session, replicate, position, scores },
    ...(hours === undefined ? {} : { hours }),
  };
}

/** A place in an order, or words for the cup; an empty cell says nothing. */
function readAside(
  row: RowReader,
  { id, form }: Brief['asides'][number],
  { mix, assessor, session, replicate }: Serving,
): AsideAnswer[] {
  const value =
    form === 'ranking'
      ? row.numberIfAny(id, { least: 1, most: 1000, whole: true, says: 'a place in the order, 1 = least' })
      : unguarded(row.text(id)).trim() || null;
  return value === null ? [] : [{ question: id, assessor, session, replicate, mix, value }];
}

function onScale([least, most]: readonly [number, number]) {
  return { least, most, says: `a number on the scale, ${least} to ${most}, or nothing` };
}

function refuseUnknownMixes(
  rows: readonly RowReader[],
  { mixes, mixesFile = 'mixes.csv' }: ScoresContext,
  faults: FaultList,
): void {
  if (mixes === undefined) return;
  const known = new Set([...mixes, REFERENCE, WARMUP]);
  for (const row of rows) {
    const mix = unguarded(row.text('mix'));
    if (mix.trim() !== '' && !known.has(mix))
      faults.add(row.place('mix'), mix, `a mix of ${mixesFile}, ${REFERENCE} or ${WARMUP}`);
  }
}

/** The same assessor, mix, session and replicate may stand once. */
function refuseTwice(rows: readonly RowReader[], faults: FaultList): void {
  const first = new Map<string, number>();
  for (const row of rows) {
    const parts = ['assessor', 'mix', 'session', 'replicate'].map((column) => row.text(column));
    const earlier = first.get(JSON.stringify(parts));
    if (earlier === undefined) first.set(JSON.stringify(parts), row.line);
    else
      faults.add(
        row.place('mix'),
        parts.filter((part) => part !== '').join(', '),
        `the same assessor, mix, session and replicate once (line ${earlier} has them)`,
      );
  }
}
