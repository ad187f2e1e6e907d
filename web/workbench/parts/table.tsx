import type { ComponentChildren } from 'preact';
import { aligned } from '../numbers.ts';
import { Scroll } from './scroll.tsx';

interface Column<T> {
  head: ComponentChildren;
  cell?: (row: T) => ComponentChildren;
  /** A figure instead: all of a column have as many decimals, the largest `digits` figures. */
  value?: (row: T) => number | null | undefined;
  digits?: number;
  /** Numbers stand right. */
  number?: boolean;
  /** Kept on one line, as a moment is. */
  oneLine?: boolean;
}

interface TableProps<T> {
  caption: string;
  columns: readonly Column<T>[];
  rows: readonly T[];
  /** Keeps the caption for those who hear the page. */
  quietCaption?: boolean;
}

/** A table whose first column names the row. Wide ones scroll by themselves. */
export function Table<T>({ caption, columns: asked, rows, quietCaption = false }: TableProps<T>) {
  const columns = asked.map((column) => shownColumn(column, rows));
  return (
    <Scroll label={caption}>
      <table>
        <caption class={quietCaption ? 'unseen' : undefined}>{caption}</caption>
        <thead>
          <tr>
            {columns.map(({ head, number }, index) => (
              <th key={index} scope="col" class={number ? 'n' : undefined}>
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row, index) => (
            <tr key={index}>
              {columns.map(({ cell, number, oneLine }, at) =>
                at === 0 ? (
                  <th key={at} scope="row" class={oneLine ? 'one-line-cell' : undefined}>
                    <span class="row-name">{cell(row)}</span>
                  </th>
                ) : (
                  <td key={at} class={number ? 'n' : oneLine ? 'one-line-cell' : undefined}>
                    {number || oneLine ? cell(row) : <div class="cell-words">{cell(row)}</div>}
                  </td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </Scroll>
  );
}

function shownColumn<T>({ head, cell, value, digits, number, oneLine }: Column<T>, rows: readonly T[]) {
  if (value === undefined) return { head, cell: cell ?? (() => ''), number, oneLine };
  const say = aligned(rows.map(value), digits);
  return { head, cell: (row: T) => say(value(row)), number: true, oneLine };
}
