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
 * Orthogonal factors of a matrix given row by row. Leading columns of which no two meet in a row (indicators of
 * groups) are orthogonal as they stand and cost nothing; what the others have along them is taken off twice, and
 * Householder's reflectors do the rest.
 */
export function orthogonalFactors(x: Float64Array, n: number, p: number): OrthogonalFactors {
  const apart = leadingApart(x, n, p);
  return apart < 2 ? reflectedFactors(x, n, p) : partedFactors(x, n, p, apart);
}

/** How many leading columns share no row. */
function leadingApart(x: Float64Array, n: number, p: number): number {
  const columns = new Float64Array(n).fill(-1);
  let most = p;
  for (let i = 0; i < n && most > 0; i++) {
    for (let j = 0; j < most; j++) {
      if (x[i * p + j] === 0) continue;
      if (columns[i]! < 0) columns[i] = j;
      else most = j;
    }
  }
  return most;
}

function partedFactors(x: Float64Array, n: number, p: number, apart: number): OrthogonalFactors {
  const rest = p - apart;
  const { groupOf, unit, lengths } = groupsOf(x, n, p, apart);
  const r = new Float64Array(p * p);
  const q = new Float64Array(n * p);
  const distance = new Float64Array(p).fill(1);
  for (let j = 0; j < apart; j++) {
    r[j * p + j] = lengths[j]!;
    distance[j] = lengths[j]! > 0 ? 1 : 0;
  }
  for (let i = 0; i < n; i++) if (groupOf[i]! >= 0) q[i * p + groupOf[i]!] = unit[i]!;
  const left = new Float64Array(n * rest);
  for (let c = 0; c < rest; c++) {
    const column = Float64Array.from({ length: n }, (_, i) => x[i * p + apart + c]!);
    const own = Math.sqrt(column.reduce((sum, v) => sum + v * v, 0));
    for (let pass = 0; pass < 2; pass++) {
      const along = new Float64Array(apart);
      for (let i = 0; i < n; i++) if (groupOf[i]! >= 0) along[groupOf[i]!]! += unit[i]! * column[i]!;
      for (let i = 0; i < n; i++) if (groupOf[i]! >= 0) column[i]! -= along[groupOf[i]!]! * unit[i]!;
      along.forEach((v, j) => {
        r[j * p + apart + c]! += v;
      });
    }
    distance[apart + c] = own > 0 ? Math.sqrt(column.reduce((sum, v) => sum + v * v, 0)) / own : 0;
    column.forEach((v, i) => {
      left[i * rest + c] = v;
    });
  }
  if (rest > 0) {
    const more = reflectedFactors(left, n, rest);
    for (let c = 0; c < rest; c++) {
      distance[apart + c]! *= more.distance[c]!;
      for (let k = 0; k <= c; k++) r[(apart + k) * p + apart + c] = more.r[k * rest + c]!;
      for (let i = 0; i < n; i++) q[i * p + apart + c] = more.q[i * rest + c]!;
    }
  }
  let logDetR = 0;
  for (let j = 0; j < p; j++) logDetR += Math.log(Math.abs(r[j * p + j]!));
  return { q, r, n, p, logDetR, distance };
}

/** For each row the column it meets (-1 for none) with the entry in a column of unit length. */
function groupsOf(x: Float64Array, n: number, p: number, apart: number) {
  const groupOf = new Int32Array(n).fill(-1);
  const largest = new Float64Array(apart);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < apart; j++)
      if (x[i * p + j] !== 0) {
        groupOf[i] = j;
        largest[j] = Math.max(largest[j]!, Math.abs(x[i * p + j]!));
        break;
      }
  const squares = new Float64Array(apart);
  groupOf.forEach((j, i) => {
    if (j >= 0) squares[j]! += (x[i * p + j]! / largest[j]!) ** 2;
  });
  const lengths = squares.map((sum, j) => largest[j]! * Math.sqrt(sum));
  const unit = Float64Array.from(groupOf, (j, i) => (j < 0 ? 0 : x[i * p + j]! / lengths[j]!));
  return { groupOf, unit, lengths };
}

/**
 * Householder's factors (Golub and Van Loan, Matrix Computations, algorithm 5.2.1). Columns are brought to unit length
 * first, so that rank decisions do not depend on units.
 */
function reflectedFactors(x: Float64Array, n: number, p: number): OrthogonalFactors {
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
  for (let c = 0; c < p; c++) {
    const column = turnedAxis(columns, scales, n, c);
    for (let i = 0; i < n; i++) q[i * p + c] = column[i]!;
  }
  return q;
}

/** The c-th coordinate axis, turned by all reflectors that reach it: the c-th column of the whole Q. */
function turnedAxis(columns: Float64Array, scales: Float64Array, n: number, c: number): Float64Array {
  const column = new Float64Array(n);
  column[c] = 1;
  for (let j = Math.min(c, scales.length - 1); j >= 0; j--) reflect(columns, n, j, scales[j]!, 0, column);
  return column;
}

/**
 * n - p orthonormal vectors orthogonal to p independent ones of length n, by Householder's reflectors: O(n² p), so that
 * contrasts between hundreds of means cost little where the model has a few dozen terms.
 */
export function complementOfColumns(vectors: readonly ArrayLike<number>[], n: number): Float64Array[] {
  const p = vectors.length;
  const columns = new Float64Array(n * p);
  vectors.forEach((vector, j) => {
    columns.set(Array.from(vector), j * n);
  });
  const scales = new Float64Array(p);
  for (let j = 0; j < p; j++) {
    reflector(columns, n, j, scales);
    for (let k = j + 1; k < p; k++) reflect(columns, n, j, scales[j]!, k * n);
  }
  return Array.from({ length: n - p }, (_, c) => turnedAxis(columns, scales, n, p + c));
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

/** x'(X'X)⁻¹x for each row x, with R the triangle of X's factors. */
export function leveragesAt(r: Float64Array, rows: Float64Array, p: number): Float64Array {
  return Float64Array.from({ length: rows.length / p }, (_, i) =>
    solveUpperTransposed(r, rows.subarray(i * p, (i + 1) * p)).reduce((sum, v) => sum + v * v, 0),
  );
}

/** Solves R' x = b: turns a combination of the columns of X into one of the columns of Q. */
export function solveUpperTransposed(r: Float64Array, b: ArrayLike<number>): Float64Array {
  const p = b.length;
  const x = Float64Array.from(b);
  for (let i = 0; i < p; i++) {
    if (x[i] === 0) continue;
    x[i] = x[i]! / r[i * p + i]!;
    for (let k = i + 1; k < p; k++) x[k] = x[k]! - r[i * p + k]! * x[i]!;
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
