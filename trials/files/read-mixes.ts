import { REFERENCE, WARMUP, type WeighedMix } from '../../engine/panel/observations.ts';
import type { Brief } from '../schema/brief.ts';
import { FaultList } from '../schema/faults.ts';
import { mixedDecimals, requireColumns, requireRows, unknownColumns } from './columns.ts';
import { headingOf, readTable, type Table } from './csv-table.ts';
import { type NumberRule, RowReader } from './row-reader.ts';
import { type MassColumn, massColumns, stockColumn } from './stock-column.ts';

/** A mix with the masses it was made of: grams of each component, in the order of the brief. */
export interface MixRow extends WeighedMix {
  grams: readonly number[];
  line: number;
}

export interface MixesRead {
  mixes: MixRow[];
  warnings: string[];
}

const MASS: NumberRule = { least: 0, most: 1e9, says: 'a mass in grams, 0 or more' };

/**
 * Reads `mixes.csv`: what was really weighed. Columns `mix`, optionally `round` and `blend`, one per component in
 * grams (`pepper@5` = grams of a 5 % stock, counted as a twentieth), one per setting.
 *
 * @param text the file, decoded
 * @throws InputFaults with line, column, found and allowed for everything wrong
 */
export function readMixes(text: string, file: string, brief: Brief): MixesRead {
  const faults = new FaultList();
  const known = (column: string) => isKnown(column, brief);
  return mixesOf(readTable(text, file, known, faults), brief, faults);
}

/** The mixes of a table that has been split already; `faults` holds what was wrong with it so far. */
export function mixesOf(table: Table, brief: Brief, faults: FaultList): MixesRead {
  const known = (column: string) => isKnown(column, brief);
  const columns = massColumns(table, brief);
  requireColumns(
    table,
    ['mix', ...missingMasses(columns, brief), ...brief.settings.map(({ id }) => id)],
    faults,
  );
  refuseWrongStocks(table, brief, columns, faults);
  faults.throwIfAny();
  requireRows(table, 'a row for each mix');
  const mixes = table.rows
    .map((row) => readMix(new RowReader(table, row, faults), brief, columns))
    .filter((mix): mix is MixRow => mix !== null);
  refuseTwice(mixes, table, faults);
  refuseUnequalBlends(mixes, { table, brief, faults });
  faults.throwIfAny();
  const numbers = [...columns.map(({ column }) => column), ...brief.settings.map(({ id }) => id)];
  return {
    mixes,
    warnings: [
      ...unknownColumns(table, known),
      ...unlistedStocks(columns, brief, table),
      ...mixedDecimals(table, numbers),
      ...outsideSettings(mixes, brief, table),
    ],
  };
}

function isKnown(column: string, brief: Brief): boolean {
  if (['mix', 'round', 'blend'].includes(column)) return true;
  if (brief.components.some(({ id }) => id === column) || brief.settings.some(({ id }) => id === column))
    return true;
  return stockColumn(column, brief) !== null;
}

function missingMasses(columns: readonly MassColumn[], brief: Brief): string[] {
  return brief.components
    .map(({ id }) => id)
    .filter((id) => !columns.some(({ component }) => component === id));
}

function refuseWrongStocks(
  table: Table,
  brief: Brief,
  columns: readonly MassColumn[],
  faults: FaultList,
): void {
  const allowed = 'component@strength, a component of the brief and a percent between 0 and 100';
  for (const column of table.header)
    if (stockColumn(column, brief) === 'wrong')
      faults.add(`${table.file}, line 1, column ${column}`, column, allowed);
  const seen = new Set<string>();
  for (const { column, component, strength } of columns) {
    const key = `${component}@${strength}`;
    if (seen.has(key))
      faults.addWords(`${table.file}, line 1, column ${column}`, `a second column for ${key}`, 'one');
    seen.add(key);
  }
}

function readMix(row: RowReader, brief: Brief, columns: readonly MassColumn[]): MixRow | null {
  const mix = row.name('mix');
  const blend = row.nameIfAny('blend') ?? mix;
  const round = row.nameIfAny('round') ?? undefined;
  const grams = readGrams(row, brief, columns);
  const settings = brief.settings.map(({ id }) => row.number(id, { says: 'a number' }));
  if (mix === REFERENCE || mix === WARMUP) {
    row.fault('mix', mix, `any name but ${REFERENCE} and ${WARMUP}, which are no mixes`);
    return null;
  }
  if (mix === null || blend === null || grams === null || settings.includes(null)) return null;
  const total = grams.reduce((sum, mass) => sum + mass, 0);
  const shares = grams.map((mass) => mass / total);
  return { mix, blend, round, shares, settings: settings as number[], grams, line: row.line };
}

/** Grams of each component, stocks counted at their strength; null and a fault where they cannot be a mix. */
function readGrams(row: RowReader, brief: Brief, columns: readonly MassColumn[]): number[] | null {
  const masses = columns.map(({ column }) => row.number(column, MASS));
  if (masses.includes(null)) return null;
  const grams = brief.components.map(({ id }) =>
    columns.reduce(
      (sum, { component, strength }, index) =>
        component === id ? sum + (masses[index]! * strength) / 100 : sum,
      0,
    ),
  );
  if (grams.some((mass) => mass > 0)) return grams;
  row.faultWords(columns[0]!.column, 'masses that are all zero', 'at least one mass above 0');
  return null;
}

function refuseTwice(mixes: readonly MixRow[], table: Table, faults: FaultList): void {
  const first = new Map<string, number>();
  for (const { mix, line } of mixes) {
    const earlier = first.get(mix);
    if (earlier === undefined) first.set(mix, line);
    else faults.add(placeIn(table, line, 'mix'), mix, `each mix once (line ${earlier} has it)`);
  }
}

function refuseUnequalBlends(
  mixes: readonly MixRow[],
  { table, brief, faults }: { table: Table; brief: Brief; faults: FaultList },
): void {
  const first = new Map<string, MixRow>();
  for (const mix of mixes) {
    const bottle = first.get(mix.blend);
    if (bottle === undefined) first.set(mix.blend, mix);
    else
      mix.grams.forEach((mass, index) => {
        if (mass === bottle.grams[index]) return;
        const where = placeIn(table, mix.line, brief.components[index]!.id);
        const why = `${bottle.grams[index]} as in line ${bottle.line}, since both are of blend ${JSON.stringify(mix.blend)}`;
        faults.add(where, mass, why);
      });
  }
}

function unlistedStocks(columns: readonly MassColumn[], brief: Brief, table: Table): string[] {
  return columns
    .filter(({ component, strength }) => {
      const stocks = brief.components.find(({ id }) => id === component)?.stocks ?? [];
      return strength !== 100 && !stocks.includes(strength);
    })
    .map(
      ({ column, strength }) =>
        `${placeIn(table, 1, column)}: the brief lists no stock of ${strength} %; counted as named`,
    );
}

function outsideSettings(mixes: readonly MixRow[], brief: Brief, table: Table): string[] {
  return brief.settings.flatMap(({ id, low, high }, index) =>
    mixes
      .filter(({ settings }) => settings[index]! < low || settings[index]! > high)
      .map(
        ({ line, settings }) =>
          `${placeIn(table, line, id)}: ${settings[index]} lies outside ${low} to ${high}`,
      ),
  );
}

function placeIn(table: Table, line: number, column: string): string {
  return `${table.file}, line ${line}, column ${headingOf(table, column)}`;
}
