/** Splits a double in two halves of 26 bits (Dekker 1971). */
const SPLITTER = 134217729;

/**
 * start + Σ a_i b_i as if computed with twice the digits and rounded once: error-free transformations of products and
 * sums (Ogita, Rump and Oishi 2005, SIAM J. Sci. Comput. 26, 1955-1988, algorithm 5.3). Factors above 1e150 in size
 * would overflow the splitting.
 *
 * @param a, b stepped through from `aAt` and `bAt` by `aStep` and `bStep`
 */
export function exactDot(
  start: number,
  a: { values: ArrayLike<number>; at: number; step: number },
  b: { values: ArrayLike<number>; at: number; step: number },
  count: number,
): number {
  let sum = start;
  let lost = 0;
  for (let i = 0, p = a.at, q = b.at; i < count; i++, p += a.step, q += b.step) {
    const x = a.values[p]!;
    const y = b.values[q]!;
    const product = x * y;
    const xs = SPLITTER * x;
    const xHigh = xs - (xs - x);
    const xLow = x - xHigh;
    const ys = SPLITTER * y;
    const yHigh = ys - (ys - y);
    const yLow = y - yHigh;
    const productLost = xLow * yLow - (product - xHigh * yHigh - xLow * yHigh - xHigh * yLow);
    const next = sum + product;
    const back = next - sum;
    lost += sum - (next - back) + (product - back) + productLost;
    sum = next;
  }
  return sum + lost;
}
