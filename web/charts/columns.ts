/** As many columns as fit side by side, evened out over the rows they take. */
export function columnsFor(pictures: number, width: number, least: number): number {
  const most = Math.max(1, Math.min(pictures, Math.floor(width / least)));
  return Math.max(1, Math.ceil(pictures / Math.ceil(pictures / most)));
}
