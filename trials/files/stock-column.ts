import type { Brief } from '../schema/brief.ts';
import type { Table } from './csv-table.ts';
import { parseNumber } from './number-text.ts';

/** A column that holds grams of a component, pure as the brief names it (`strength` 100) or as a stock. */
export interface MassColumn {
  column: string;
  component: string;
  /** Percent of the component by mass. */
  strength: number;
}

/** `pepper@5` → 5 % stock of pepper; null where the name has no `@` or is no component before it. */
export function stockColumn(column: string, brief: Brief): MassColumn | 'wrong' | null {
  const at = column.indexOf('@');
  if (at < 0) return null;
  const component = column.slice(0, at);
  if (!brief.components.some(({ id }) => id === component)) return 'wrong';
  const strength = parseNumber(column.slice(at + 1), false);
  return strength !== null && strength > 0 && strength < 100 ? { column, component, strength } : 'wrong';
}

/** The columns of a table that hold grams, in the order of the brief's components, pure before stocks. */
export function massColumns(table: Table, brief: Brief): MassColumn[] {
  return brief.components.flatMap(({ id }) => [
    ...(table.header.includes(id) ? [{ column: id, component: id, strength: 100 }] : []),
    ...table.header
      .map((column) => stockColumn(column, brief))
      .filter((stock): stock is MassColumn => stock !== null && stock !== 'wrong' && stock.component === id),
  ]);
}
