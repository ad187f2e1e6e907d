import { cholesky } from '../../numeric/dense.ts';

/** Correlations are drawn toward zero as if that came from so many more cups. */
const DRAWN = 30;
const HALVINGS = 20;

/**
 * Correlations between attributes of what shared cups leave over beside cell and assessor, drawn toward zero, and
 * halved until the matrix is positive definite (missing answers can break that).
 * @param leftOvers by attribute: left-over by serving; null where nothing was scored
 * @returns attributes × attributes
 */
export function leftOverCorrelation(
  leftOvers: readonly (ReadonlyMap<number, number> | null)[],
): Float64Array {
  const k = leftOvers.length;
  const out = new Float64Array(k * k);
  for (let a = 0; a < k; a++) {
    out[a * k + a] = 1;
    for (let b = 0; b < a; b++) out[a * k + b] = out[b * k + a] = correlation(leftOvers[a]!, leftOvers[b]!);
  }
  for (let i = 0; i < HALVINGS && cholesky(out.slice(), k, 0, 1e-3) === null; i++)
    for (let j = 0; j < out.length; j++) if (j % (k + 1) !== 0) out[j]! /= 2;
  return out;
}

function correlation(a: ReadonlyMap<number, number> | null, b: ReadonlyMap<number, number> | null): number {
  if (!a || !b) return 0;
  let [products, squaresA, squaresB, n] = [0, 0, 0, 0];
  for (const [row, left] of a) {
    const other = b.get(row);
    if (other === undefined) continue;
    products += left * other;
    squaresA += left * left;
    squaresB += other * other;
    n++;
  }
  if (!(squaresA > 0 && squaresB > 0)) return 0;
  return ((products / Math.sqrt(squaresA * squaresB)) * n) / (n + DRAWN);
}
