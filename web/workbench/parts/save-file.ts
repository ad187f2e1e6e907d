/** Gives the maker a file to keep. */
export function saveFile(name: string, address: string): void {
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
}

/** The same for text. */
export function saveText(name: string, text: string, kind: string): void {
  const address = URL.createObjectURL(new Blob([text], { type: kind }));
  saveFile(name, address);
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/** Rows as CSV; cells that a spreadsheet would run are guarded. */
export function csvOf(
  head: readonly string[],
  rows: readonly (readonly (string | number | null)[])[],
): string {
  return [head, ...rows].map((row) => `${row.map(cellOf).join(',')}\r\n`).join('');
}

function cellOf(cell: string | number | null): string {
  if (cell === null) return '';
  if (typeof cell === 'number') return String(cell);
  const guarded = /^[=+\-@\t\r]/.test(cell) ? `'${cell}` : cell;
  return /[",\r\n']/.test(guarded) ? `"${guarded.replaceAll('"', '""')}"` : guarded;
}
