import { Name } from '../schema/brief.ts';
import { unguarded } from '../schema/csv-text.ts';
import type { FaultList } from '../schema/faults.ts';
import { headingOf, type Table, type TableRow } from './csv-table.ts';
import { parseNumber } from './number-text.ts';

/** What a number in a cell has to satisfy, and the words for it. */
export interface NumberRule {
  least?: number;
  most?: number;
  whole?: boolean;
  says: string;
}

/** Reads the cells of one row by column name; what is wrong goes to the list with line, column and value. */
export class RowReader {
  readonly line: number;
  readonly #table: Table;
  readonly #cells: readonly string[];
  readonly #faults: FaultList;

  constructor(table: Table, row: TableRow, faults: FaultList) {
    this.line = row.line;
    this.#table = table;
    this.#cells = row.cells;
    this.#faults = faults;
  }

  /** The text of a cell as it stands; empty where the table has no such column. */
  text(column: string): string {
    const index = this.#table.header.indexOf(column);
    return index < 0 ? '' : this.#cells[index]!;
  }

  isEmpty(column: string): boolean {
    return this.text(column).trim() === '';
  }

  /**
   * A name, or null (and a fault) where it is none; an empty cell is a fault too. An apostrophe that guards it from
   * being run by a spreadsheet is no part of it.
   */
  name(column: string): string | null {
    const text = unguarded(this.text(column));
    if (!this.isEmpty(column) && Name.safeParse(text).success) return text;
    this.fault(column, text, '1 to 80 characters, none of them a control character');
    return null;
  }

  /** A name, or null where the cell is empty; `ok` is false where there is text that is no name. */
  nameIfAny(column: string): string | null {
    return this.isEmpty(column) ? null : this.name(column);
  }

  /** A number within the rule, or null and a fault. */
  number(column: string, rule: NumberRule): number | null {
    const value = parseNumber(this.text(column), this.#table.separator !== ',');
    if (value !== null && meets(value, rule)) return value;
    this.fault(column, this.text(column), rule.says);
    return null;
  }

  /** A number within the rule, or null where the cell is empty. */
  numberIfAny(column: string, rule: NumberRule): number | null {
    return this.isEmpty(column) ? null : this.number(column, rule);
  }

  fault(column: string, found: unknown, allowed: string): void {
    this.#faults.add(this.place(column), found, allowed);
  }

  faultWords(column: string, found: string, allowed: string): void {
    this.#faults.addWords(this.place(column), found, allowed);
  }

  place(column: string): string {
    return `${this.#table.file}, line ${this.line}, column ${headingOf(this.#table, column)}`;
  }
}

function meets(value: number, { least, most, whole }: NumberRule): boolean {
  if (least !== undefined && value < least) return false;
  if (most !== undefined && value > most) return false;
  return whole !== true || Number.isSafeInteger(value);
}
