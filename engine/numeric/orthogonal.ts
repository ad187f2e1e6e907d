/** X = Q R with Q n × p orthonormal (row by row) and R p × p upper triangular. */
export interface OrthogonalFactors {
  q: Float64Array;
  r: Float64Array;
  n: number;
  p: number;
  /** log |det R| = ½ log det X'X. */
  logDetR: number;
  /** Each column's distance from the span of those before it, relative to its own length. */
  distance: Float64Array;
}

/**
 * Householder's orthogonal factors of a matrix given row by row (Golub and Van Loan, Matrix Computations,
 * algorithm 5.2.1). Columns are brought to unit length first, so that rank decisions do not depend on units.
 */
export function orthogonalFactors(x: Float64Array, n: number, p: number): OrthogonalFactors {
  const { columns, lengths } = unitColumns(x, n, p);
  const r = new Float64Array(p * p);
  const distance = new Float64Array(p);
  const scales = new Float64Array(p);
  for (let j = 0; j < p; j++) {
    const head = reflector(columns, n, j, scales);
    for (let k = j + 1; k < p; k++) reflect(columns, n, j, scales[j]!, k * n);
    for (let i = 0; i < j; i++) r[i * p + j] = columns[j * n + i]! * lengths[j]!;
    r[j * p + j] = head * lengths[j]!;
    distance[j] = Math.abs(head);
  }
  let logDetR = 0;
  for (let j = 0; j < p; j++) logDetR += Math.log(Math.abs(r[j * p + j]!));
  return { q: explicitQ(columns, scales, n, p), r, n, p, logDetR, distance };
}

function unitColumns(x: Float64Array, n: number, p: number) {
  const columns = new Float64Array(n * p);
  const lengths = new Float64Array(p);
  for (let j = 0; j < p; j++) {
    let largest = 0;
    for (let i = 0; i < n; i++) largest = Math.max(largest, Math.abs(x[i * p + j]!));
    let sum = 0;
    if (largest > 0) for (let i = 0; i < n; i++) sum += (x[i * p + j]! / largest) ** 2;
    lengths[j] = largest * Math.sqrt(sum);
    const scale = lengths[j]! > 0 ? 1 / lengths[j]! : 0;
    for (let i = 0; i < n; i++) columns[j * n + i] = x[i * p + j]! * scale;
  }
  return { columns, lengths };
}

/** Builds the j-th reflector in place below row j; returns the entry of R on the diagonal. */
function reflector(columns: Float64Array, n: number, j: number, scales: Float64Array): number {
  const at = j * n;
  let sum = 0;
  for (let i = j; i < n; i++) sum += columns[at + i]! ** 2;
  const head = columns[at + j]!;
  const norm = head > 0 ? -Math.sqrt(sum) : Math.sqrt(sum);
  if (norm === 0) return 0;
  columns[at + j] = head - norm;
  scales[j] = -1 / (norm * (head - norm));
  return norm;
}

/** Applies the j-th reflector to the column that begins at `at`. */
function reflect(
  columns: Float64Array,
  n: number,
  j: number,
  scale: number,
  at: number,
  target = columns,
): void {
  if (scale === 0) return;
  let dot = 0;
  for (let i = j; i < n; i++) dot += columns[j * n + i]! * target[at + i]!;
  dot *= scale;
  for (let i = j; i < n; i++) target[at + i] = target[at + i]! - dot * columns[j * n + i]!;
}

function explicitQ(columns: Float64Array, scales: Float64Array, n: number, p: number): Float64Array {
  const q = new Float64Array(n * p);
  const column = new Float64Array(n);
  for (let c = 0; c < p; c++) {
    column.fill(0);
    column[c] = 1;
    for (let j = Math.min(c, p - 1); j >= 0; j--) reflect(columns, n, j, scales[j]!, 0, column);
    for (let i = 0; i < n; i++) q[i * p + c] = column[i]!;
  }
  return q;
}

/** Solves R x = b. */
export function solveUpper(r: Float64Array, b: ArrayLike<number>): Float64Array {
  const p = b.length;
  const x = Float64Array.from(b);
  for (let i = p - 1; i >= 0; i--) {
    for (let k = i + 1; k < p; k++) x[i] = x[i]! - r[i * p + k]! * x[k]!;
    x[i] = x[i]! / r[i * p + i]!;
  }
  return x;
}

/** Solves R' x = b: turns a combination of the columns of X into one of the columns of Q. */
export function solveUpperTransposed(r: Float64Array, b: ArrayLike<number>): Float64Array {
  const p = b.length;
  const x = Float64Array.from(b);
  for (let i = 0; i < p; i++) {
    for (let k = 0; k < i; k++) x[i] = x[i]! - r[k * p + i]! * x[k]!;
    x[i] = x[i]! / r[i * p + i]!;
  }
  return x;
}

/** scale · R⁻¹ A R⁻ᵀ: from the covariance of the coefficients of Q to that of the columns of X. */
export function covarianceOfColumns(r: Float64Array, unit: Float64Array, scale: number): Float64Array {
  const p = Math.round(Math.sqrt(unit.length));
  const half = new Float64Array(p * p);
  for (let j = 0; j < p; j++) half.set(solveUpper(r, unit.subarray(j * p, j * p + p)), j * p);
  const out = new Float64Array(p * p);
  for (let j = 0; j < p; j++) {
    const column = solveUpper(
      r,
      Float64Array.from({ length: p }, (_, i) => half[i * p + j]!),
    );
    for (let i = 0; i < p; i++) out[i * p + j] = scale * column[i]!;
  }
  for (let i = 0; i < p; i++) for (let j = 0; j < i; j++) out[i * p + j] = out[j * p + i]!;
  return out;
}
