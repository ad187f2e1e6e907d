import { FaultList } from '../schema/faults.ts';
import { mixedDecimals, requireColumns, unknownColumns } from './columns.ts';
import { readTable } from './csv-table.ts';
import { RowReader } from './row-reader.ts';

/** Grams left of a blend, and hours since it was weighed where the file tells them. */
export interface Leftover {
  blend: string;
  grams: number;
  ageHours: number | null;
}

export interface LeftoversRead {
  leftovers: Leftover[];
  warnings: string[];
}

/**
 * Reads `leftovers.csv`: `mix` and `grams` left of its blend, and `hours` since it was weighed where that is known.
 * Mixes that share a blend came out of one bottle, so a blend may be named once.
 *
 * @param mixes the mixes known, with the blend of each
 * @throws InputFaults with line, column, found and allowed for everything wrong
 */
export function readLeftovers(
  text: string,
  file: string,
  mixes: readonly { mix: string; blend: string }[],
): LeftoversRead {
  const faults = new FaultList();
  const known = (column: string) => column === 'mix' || column === 'grams' || column === 'hours';
  const table = readTable(text, file, known, faults);
  requireColumns(table, ['mix', 'grams'], faults);
  faults.throwIfAny();
  const blends = new Map(mixes.map(({ mix, blend }) => [mix, blend]));
  const first = new Map<string, number>();
  const leftovers = table.rows.flatMap((cells): Leftover[] => {
    const row = new RowReader(table, cells, faults);
    const mix = row.name('mix');
    const grams = row.number('grams', { least: 0, most: 1e9, says: 'a mass in grams, 0 or more' });
    const ageHours = row.numberIfAny('hours', {
      least: 0,
      most: 1e9,
      says: 'hours since it was weighed, or nothing',
    });
    const blend = mix === null ? undefined : blends.get(mix);
    if (mix !== null && blend === undefined) row.fault('mix', mix, 'a mix of mixes.csv');
    if (grams === null || blend === undefined) return [];
    const earlier = first.get(blend);
    if (earlier !== undefined) row.fault('mix', mix, `each blend once (line ${earlier} has it)`);
    first.set(blend, row.line);
    return [{ blend, grams, ageHours }];
  });
  faults.throwIfAny();
  return {
    leftovers,
    warnings: [...unknownColumns(table, known), ...mixedDecimals(table, ['grams', 'hours'])],
  };
}
