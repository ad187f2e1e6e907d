type Cell = string | number | null;

/** What a spreadsheet would run rather than show: such cells, and those that look guarded already, are guarded. */
const RUNS = /^'*[=+\-@\t\r]/;

/**
 * Rows as CSV (RFC 4180). Texts that a spreadsheet would run get an apostrophe before them, which `unguarded` takes
 * away again; numbers are written with enough digits to read back the same double.
 */
export function csvText(head: readonly string[], rows: readonly (readonly Cell[])[]): string {
  return [head, ...rows].map((row) => `${row.map(cellOf).join(',')}\r\n`).join('');
}

/** A cell's text as it was before it was guarded. */
export function unguarded(text: string): string {
  return text.startsWith("'") && RUNS.test(text) ? text.slice(1) : text;
}

function cellOf(cell: Cell): string {
  if (cell === null) return '';
  if (typeof cell === 'number') return String(cell);
  const guarded = RUNS.test(cell) ? `'${cell}` : cell;
  return /[",\r\n;\t']/.test(guarded) || guarded !== guarded.trim()
    ? `"${guarded.replaceAll('"', '""')}"`
    : guarded;
}
