/**
 * Small dense kernels on flat arrays, row by row. They are flat because at the sizes of a panel (blocks of one
 * assessor, a border of a few dozen columns) they run two to three times faster than a matrix object.
 */

/**
 * Replaces the lower triangle of the symmetric n × n matrix that begins at `at` by its Cholesky factor L and
 * clears the rest. Returns log det = 2 Σ log L_ii, or null where the matrix is not positive definite: a pivot
 * that keeps less than `least` of its diagonal entry counts as zero.
 */
export function cholesky(a: Float64Array, n: number, at = 0, least = 1e-14): number | null {
  let logDet = 0;
  for (let j = 0; j < n; j++) {
    const rowJ = at + j * n;
    const diagonal = a[rowJ + j]!;
    let pivot = diagonal;
    for (let k = 0; k < j; k++) pivot -= a[rowJ + k]! * a[rowJ + k]!;
    if (!(pivot > least * diagonal)) return null;
    const root = Math.sqrt(pivot);
    a[rowJ + j] = root;
    logDet += 2 * Math.log(root);
    for (let i = j + 1; i < n; i++) {
      const rowI = at + i * n;
      let sum = a[rowI + j]!;
      for (let k = 0; k < j; k++) sum -= a[rowI + k]! * a[rowJ + k]!;
      a[rowI + j] = sum / root;
      a[rowJ + i] = 0;
    }
  }
  return logDet;
}

/** Where a triangular factor sits inside a longer array. */
export interface Triangle {
  l: Float64Array;
  n: number;
  at: number;
}

/** Solves L x = b in place for `width` right-hand sides, b being n × width from `bAt` on. */
export function solveLower({ l, n, at }: Triangle, b: Float64Array, width: number, bAt = 0): void {
  for (let i = 0; i < n; i++) {
    const row = bAt + i * width;
    for (let k = 0; k < i; k++) {
      const factor = l[at + i * n + k]!;
      if (factor === 0) continue;
      const from = bAt + k * width;
      for (let c = 0; c < width; c++) b[row + c] = b[row + c]! - factor * b[from + c]!;
    }
    const diagonal = l[at + i * n + i]!;
    for (let c = 0; c < width; c++) b[row + c] = b[row + c]! / diagonal;
  }
}

/** Solves L' x = b in place for `width` right-hand sides. */
export function solveLowerTransposed({ l, n, at }: Triangle, b: Float64Array, width: number, bAt = 0): void {
  for (let i = n - 1; i >= 0; i--) {
    const row = bAt + i * width;
    for (let k = i + 1; k < n; k++) {
      const factor = l[at + k * n + i]!;
      if (factor === 0) continue;
      const from = bAt + k * width;
      for (let c = 0; c < width; c++) b[row + c] = b[row + c]! - factor * b[from + c]!;
    }
    const diagonal = l[at + i * n + i]!;
    for (let c = 0; c < width; c++) b[row + c] = b[row + c]! / diagonal;
  }
}

/** Inverse of L L' from its factor, both n × n: what is zero above diagonals is not worked through. */
export function inverseFromCholesky(l: Float64Array, n: number): Float64Array {
  const inverse = inverseOfLower(l, n);
  for (let i = n - 1; i >= 0; i--) {
    const row = i * n;
    for (let k = i + 1; k < n; k++) {
      const factor = l[k * n + i]!;
      if (factor !== 0)
        for (let c = 0; c <= i; c++) inverse[row + c] = inverse[row + c]! - factor * inverse[k * n + c]!;
    }
    const diagonal = l[row + i]!;
    for (let c = 0; c <= i; c++) inverse[row + c] = inverse[row + c]! / diagonal;
  }
  for (let i = 0; i < n; i++) for (let c = 0; c < i; c++) inverse[c * n + i] = inverse[i * n + c]!;
  return inverse;
}

/** L⁻¹, lower triangular too. */
function inverseOfLower(l: Float64Array, n: number): Float64Array {
  const inverse = identity(n);
  for (let i = 0; i < n; i++) {
    const row = i * n;
    for (let k = 0; k < i; k++) {
      const factor = l[row + k]!;
      if (factor !== 0)
        for (let c = 0; c <= k; c++) inverse[row + c] = inverse[row + c]! - factor * inverse[k * n + c]!;
    }
    const diagonal = l[row + i]!;
    for (let c = 0; c <= i; c++) inverse[row + c] = inverse[row + c]! / diagonal;
  }
  return inverse;
}

/** Inverse of a symmetric positive definite matrix, null where it is not one. */
export function inverseOfPositive(a: Float64Array, n: number, least = 1e-14): Float64Array | null {
  const l = Float64Array.from(a);
  return cholesky(l, n, 0, least) === null ? null : inverseFromCholesky(l, n);
}

export function identity(n: number): Float64Array {
  const one = new Float64Array(n * n);
  for (let i = 0; i < n; i++) one[i * n + i] = 1;
  return one;
}

/** Averages a matrix with its transpose, in place. */
export function symmetrise(a: Float64Array, n: number): Float64Array {
  for (let i = 0; i < n; i++)
    for (let j = 0; j < i; j++) {
      const mean = (a[i * n + j]! + a[j * n + i]!) / 2;
      a[i * n + j] = mean;
      a[j * n + i] = mean;
    }
  return a;
}

/** The inner product of any two lists of one length; `dot` is the one for inner loops, which only ever see flat arrays. */
export function innerProduct(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

/** The inner product of two vectors of one length. */
export function dot(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

/** A B for A rows × inner and B inner × columns. */
export function multiply(a: Float64Array, b: Float64Array, inner: number): Float64Array {
  const rows = a.length / inner;
  const columns = b.length / inner;
  const out = new Float64Array(rows * columns);
  for (let i = 0; i < rows; i++)
    for (let k = 0; k < inner; k++) addScaled(out, i * columns, a[i * inner + k]!, b, k * columns, columns);
  return out;
}

/** A'B for A rows × m and B rows × columns. */
export function multiplyTransposed(a: Float64Array, b: Float64Array, rows: number): Float64Array {
  const m = a.length / rows;
  const columns = b.length / rows;
  const out = new Float64Array(m * columns);
  for (let r = 0; r < rows; r++)
    for (let i = 0; i < m; i++) addScaled(out, i * columns, a[r * m + i]!, b, r * columns, columns);
  return out;
}

function addScaled(
  out: Float64Array,
  outAt: number,
  factor: number,
  from: Float64Array,
  fromAt: number,
  length: number,
): void {
  if (factor === 0) return;
  for (let j = 0; j < length; j++) out[outAt + j] = out[outAt + j]! + factor * from[fromAt + j]!;
}

/** tr(A B') = Σ A∘B. */
export function sumOfProducts(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}

/** x'A y for a square A. */
export function bilinear(x: ArrayLike<number>, a: Float64Array, y: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < x.length; i++) {
    if (x[i] === 0) continue;
    let row = 0;
    for (let j = 0; j < y.length; j++) row += a[i * y.length + j]! * y[j]!;
    sum += x[i]! * row;
  }
  return sum;
}
