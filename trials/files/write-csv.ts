import Papa from 'papaparse';

/** What a spreadsheet takes for a formula at the head of a cell. */
const RUNS = /^\s*[=+\-@\t\r\n＝＋－＠]/;

/**
 * Writes CSV (commas, LF, RFC 4180 quoting) in which no text cell is run by a spreadsheet: text that begins like a
 * formula gets an apostrophe in front. Numbers are written so that they read back as the same double.
 *
 * @param rows cells in the order of the header; null is an empty cell
 */
export function writeCsv(
  header: readonly string[],
  rows: readonly (readonly (string | number | null)[])[],
): string {
  const guarded = [header, ...rows].map((row) =>
    row.map((cell) => (typeof cell === 'string' && RUNS.test(cell) ? `'${cell}` : cell)),
  );
  return `${Papa.unparse(guarded, { delimiter: ',', newline: '\n' })}\n`;
}
