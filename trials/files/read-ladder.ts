import type { LadderAnswers } from '../../engine/design/dose-ladder.ts';
import { EngineError } from '../../engine/errors.ts';
import { FaultList } from '../schema/faults.ts';
import { mixedDecimals, requireColumns, unknownColumns } from './columns.ts';
import { readTable } from './csv-table.ts';
import { RowReader } from './row-reader.ts';

export interface LadderRead {
  /** In mg per litre of drink, rising. */
  concentrations: number[];
  answers: LadderAnswers[];
  warnings: string[];
}

const COLUMNS = ['assessor', 'concentration', 'correct'];

/**
 * Reads `ladder.csv`: a row for each assessor and concentration (mg per litre of drink), `correct` 1 where the odd cup
 * of three was found and 0 where it was not. Every assessor answers every concentration once.
 *
 * @throws InputFaults with line, column, found and allowed for everything wrong
 */
export function readLadder(text: string, file: string): LadderRead {
  const faults = new FaultList();
  const known = (column: string) => COLUMNS.includes(column);
  const table = readTable(text, file, known, faults);
  requireColumns(table, COLUMNS, faults);
  faults.throwIfAny();
  const found = new Map<string, Map<number, boolean>>();
  for (const cells of table.rows) {
    const row = new RowReader(table, cells, faults);
    const assessor = row.name('assessor');
    const concentration = row.number('concentration', {
      least: Number.MIN_VALUE,
      says: 'mg per litre, above 0',
    });
    const correct = row.number('correct', {
      least: 0,
      most: 1,
      whole: true,
      says: '1 (found) or 0 (not found)',
    });
    if (assessor === null || concentration === null || correct === null) continue;
    const own = found.get(assessor) ?? new Map<number, boolean>();
    if (own.has(concentration))
      row.fault('concentration', concentration, 'each concentration once an assessor');
    found.set(assessor, own.set(concentration, correct === 1));
  }
  faults.throwIfAny();
  const concentrations = [...new Set([...found.values()].flatMap((own) => [...own.keys()]))].sort(
    (a, b) => a - b,
  );
  const answers = [...found].map(([assessor, own]) => ({
    assessor,
    correct: concentrations.map((c) => {
      const correct = own.get(c);
      if (correct === undefined)
        throw new EngineError(
          'bad-argument',
          `${file}: ${assessor}`,
          `no answer at ${c}`,
          'one at every concentration',
        );
      return correct;
    }),
  }));
  return {
    ...{ concentrations, answers },
    warnings: [...unknownColumns(table, known), ...mixedDecimals(table, ['concentration'])],
  };
}
