import type { ComponentChildren } from 'preact';
import { Scroll } from './scroll.tsx';

interface Column<T> {
  head: ComponentChildren;
  cell: (row: T) => ComponentChildren;
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
export function Table<T>({ caption, columns, rows, quietCaption = false }: TableProps<T>) {
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
                    {cell(row)}
                  </th>
                ) : (
                  <td key={at} class={number ? 'n' : oneLine ? 'one-line-cell' : undefined}>
                    {cell(row)}
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
