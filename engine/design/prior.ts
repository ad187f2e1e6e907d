import { orthogonalFactors } from '../numeric/orthogonal.ts';
import { evaluateTerms, type Term } from './terms.ts';

/**
 * Prior precision of each term (DuMouchel and Jones 1994): 0 for primary terms; a higher term is freed of what the
 * primary ones explain over the candidates, and its coefficient, once that rest is brought to a range of one, has
 * variance `variance` in units of the variance of one cup. For the term as it stands that is range² / variance,
 * and, with flat priors on the primary terms, no covariances.
 *
 * @param primary which terms are primary. @param points candidates.
 */
export function priorPrecision(
  terms: readonly Term[],
  primary: readonly boolean[],
  points: readonly { shares: ArrayLike<number>; coded: ArrayLike<number> }[],
  variance = 1,
): number[] {
  const n = points.length;
  const p = terms.length;
  const rows = points.map(({ shares, coded }) => evaluateTerms(terms, shares, coded));
  const kept = terms.flatMap((_, t) => (primary[t] ? [t] : []));
  const x = new Float64Array(n * kept.length);
  rows.forEach((row, i) => {
    kept.forEach((t, j) => {
      x[i * kept.length + j] = row[t]!;
    });
  });
  const { q } = orthogonalFactors(x, n, kept.length);
  return Array.from({ length: p }, (_, t) => {
    if (primary[t]) return 0;
    const rest = outside(
      q,
      rows.map((row) => row[t]!),
      kept.length,
    );
    return (Math.max(...rest) - Math.min(...rest)) ** 2 / variance;
  });
}

/** What is left of a column outside the span of orthonormal columns. */
function outside(q: Float64Array, column: readonly number[], width: number): number[] {
  const rest = [...column];
  for (let j = 0; j < width; j++) {
    let along = 0;
    for (let i = 0; i < rest.length; i++) along += q[i * width + j]! * rest[i]!;
    for (let i = 0; i < rest.length; i++) rest[i] = rest[i]! - along * q[i * width + j]!;
  }
  return rest;
}

/** A diagonal precision of the terms f in the coordinates g = T f: T K T'. */
export function priorInCoordinates(precision: readonly number[], transform: Float64Array): Float64Array {
  const p = precision.length;
  const out = new Float64Array(p * p);
  for (let i = 0; i < p; i++)
    for (let j = 0; j < p; j++) {
      let sum = 0;
      for (let k = 0; k <= Math.min(i, j); k++)
        sum += transform[i * p + k]! * precision[k]! * transform[j * p + k]!;
      out[i * p + j] = sum;
    }
  return out;
}
