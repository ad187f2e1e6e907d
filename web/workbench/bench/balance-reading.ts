/** A number with a unit of mass, as balances write one line after another; signs may stand apart from their digits. */
const READING = /([+-]?)\s*(\d+(?:[.,]\d+)?)\s*(kg|mg|g)\b/i;
const GRAMS: Readonly<Record<string, number>> = { mg: 0.001, g: 1, kg: 1000 };

/** Grams in one line that a balance has sent; null where it holds no mass. */
export function gramsIn(line: string): number | null {
  const [, sign, digits, unit] = READING.exec(line) ?? [];
  if (digits === undefined || unit === undefined) return null;
  const value = Number(digits.replace(',', '.')) * GRAMS[unit.toLowerCase()]!;
  return Number((sign === '-' ? -value : value).toPrecision(12));
}

/** Equal readings in a row before a mass counts as settled. */
const SETTLED = 3;

/**
 * Listens to lines of a balance and tells each mass that has settled: three equal readings in a row, told once until
 * it moves. Lines without a mass are passed over.
 */
export function settledReadings(told: (grams: number) => void): (chunk: string) => void {
  let rest = '';
  let last: number | null = null;
  let times = 0;
  return (chunk) => {
    const lines = (rest + chunk).split(/[\r\n]+/);
    rest = (lines.pop() ?? '').slice(-200);
    for (const line of lines) {
      const grams = gramsIn(line);
      if (grams === null) continue;
      times = grams === last ? times + 1 : 1;
      last = grams;
      if (times === SETTLED) told(grams);
    }
  };
}
