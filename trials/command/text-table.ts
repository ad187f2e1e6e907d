export interface Column {
  title: string;
  /** Numbers stand to the right, words to the left. */
  numeric?: boolean;
}

/** Rows under their titles, each column as wide as its widest cell; the last column runs on. */
export function textTable(columns: readonly Column[], rows: readonly (readonly string[])[]): string {
  const widths = columns.map(({ title }, c) =>
    Math.max(lengthOf(title), ...rows.map((row) => lengthOf(row[c] ?? ''))),
  );
  const line = (cells: readonly string[]) =>
    columns
      .map(({ numeric }, c) => pad(cells[c] ?? '', widths[c]!, numeric === true))
      .join('  ')
      .trimEnd();
  const titles = line(columns.map(({ title }) => title));
  return `${[titles, ...rows.map(line)].map((text) => `  ${text}`).join('\n')}\n`;
}

function pad(text: string, width: number, right: boolean): string {
  const gap = ' '.repeat(Math.max(0, width - lengthOf(text)));
  return right ? gap + text : text + gap;
}

function lengthOf(text: string): number {
  return [...text].length;
}

/** A number for reading: at most `digits` significant ones; nothing at all where there is none. */
export function short(value: number | null | undefined, digits = 4): string {
  if (value === null || value === undefined) return '-';
  if (value === 0) return '0';
  if (Math.abs(value) >= 10 ** digits && Math.abs(value) < 1e9) return String(Math.round(value));
  return String(Number(value.toPrecision(digits)));
}

/** A number with a fixed count of decimals. */
export function fixed(value: number | null | undefined, decimals: number): string {
  return value === null || value === undefined ? '-' : value.toFixed(decimals);
}

/** A probability: three decimals, and no claim of zero. */
export function shortP(p: number | null | undefined): string {
  if (p === null || p === undefined) return '-';
  return p < 0.001 ? '<0.001' : p.toFixed(3);
}

/** A chance as so many in a hundred. */
export function inHundred(chance: number | null | undefined): string {
  return chance === null || chance === undefined ? '-' : `${Math.round(100 * chance)} in 100`;
}

/** `low to high`, or nothing where there is no interval. */
export function shortInterval(interval: readonly [number, number] | null | undefined, digits = 4): string {
  return interval ? `${short(interval[0], digits)} to ${short(interval[1], digits)}` : '-';
}

/** Decimals that a mass needs on a balance with this readability. */
export function decimalsOf(readability: number): number {
  const [digits = '', exponent = '0'] = String(readability).split('e');
  const point = digits.indexOf('.');
  return Math.max(0, (point < 0 ? 0 : digits.length - point - 1) - Number(exponent));
}

/** What the order of serving was found to do. */
export function orderTable(
  order: readonly {
    effect: string;
    estimate: number;
    standardError: number | null;
    p: number | null;
  }[],
): string {
  const titles = ['taken out', 'points', 'standard error', 'p'];
  return textTable(
    titles.map((title, c) => ({ title, numeric: c > 0 })),
    order.map((o) => [o.effect, short(o.estimate, 3), short(o.standardError, 3), shortP(o.p)]),
  );
}

/** One line of figures of any kind under their titles. */
export function figureTable(cells: readonly (readonly [title: string, value: unknown])[]): string {
  const shown = cells.map(([title, value]) => {
    if (title === 'p') return shortP(value as number | null);
    if (Array.isArray(value)) return shortInterval(value as [number, number], 3);
    return typeof value === 'string' ? value : short(value as number | null, 7);
  });
  return textTable(
    cells.map(([title]) => ({ title })),
    [shown],
  );
}
