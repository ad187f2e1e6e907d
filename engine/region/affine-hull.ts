import { innerProduct } from '../numeric/dense.ts';

/** Directions shorter than this, relative to unit length, count as none. */
const DEPENDENT = 1e-9;

/**
 * Orthonormal vectors that span the given ones, by modified Gram-Schmidt with pivoting and reorthogonalisation.
 * A vector whose part outside the span so far is below 1e-9 of its length adds nothing.
 */
export function spanOf(vectors: readonly (readonly number[])[]): number[][] {
  const basis: number[][] = [];
  const rest = vectors.map(unit).filter((v) => v !== null);
  while (rest.length > 0) {
    const outside = rest.map((v) => removeSpan(v, basis));
    const lengths = outside.map((v) => Math.sqrt(innerProduct(v, v)));
    const best = lengths.indexOf(Math.max(...lengths));
    if (lengths[best]! <= DEPENDENT) break;
    basis.push(outside[best]!.map((c) => c / lengths[best]!));
    rest.splice(best, 1);
  }
  return basis;
}

/**
 * Orthonormal vectors that span everything orthogonal to the given vectors of length n. In turn the coordinate axis
 * that sticks out most of what is spanned so far (by 1 - Σ b_i², so that only the chosen one is worked out): O(n³).
 */
export function complementOf(vectors: readonly (readonly number[])[], n: number): number[][] {
  const span = spanOf(vectors);
  const whole = [...span];
  const outside = Float64Array.from(
    { length: n },
    (_, i) => 1 - span.reduce((sum, b) => sum + b[i]! ** 2, 0),
  );
  while (whole.length < n) {
    const best = outside.indexOf(Math.max(...outside));
    const rest = removeSpan(unitVector(n, best), whole);
    const length = Math.sqrt(innerProduct(rest, rest));
    const next = rest.map((c) => c / length);
    whole.push(next);
    for (let i = 0; i < n; i++) outside[i]! -= next[i]! ** 2;
  }
  return whole.slice(span.length);
}

/** What is left of a vector outside the span of an orthonormal basis. */
export function removeSpan(vector: readonly number[], basis: readonly (readonly number[])[]): number[] {
  const rest = [...vector];
  for (let pass = 0; pass < 2; pass++)
    for (const b of basis) {
      const along = innerProduct(rest, b);
      for (let i = 0; i < rest.length; i++) rest[i] = rest[i]! - along * b[i]!;
    }
  return rest;
}

function unit(vector: readonly number[]): number[] | null {
  const largest = Math.max(...vector.map(Math.abs));
  if (!(largest > 0)) return null;
  const scaled = vector.map((c) => c / largest);
  const length = Math.sqrt(innerProduct(scaled, scaled));
  return scaled.map((c) => c / length);
}

function unitVector(n: number, at: number): number[] {
  return Array.from({ length: n }, (_, i) => (i === at ? 1 : 0));
}
