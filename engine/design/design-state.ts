import { cholesky, dot, inverseFromCholesky } from '../numeric/dense.ts';

/** How good a design is; smaller is better for both. */
export type Criterion = 'average-variance' | 'determinant';

/** What an exchange of one row needs to know about the row that leaves: A f, A² f, f'A f, f'A² f. */
export interface Leaving {
  row: number;
  a: Float64Array;
  b: Float64Array;
  variance: number;
  square: number;
}

/** What it needs to know about the row that enters. */
export interface Entering {
  /** g'A g. */
  variance: number;
  /** g'A² g. */
  square: number;
  /** g'A f. */
  mixed: number;
  /** g'A² f. */
  mixedSquare: number;
}

/** A g, A f, A² g, A² f and Q⁻¹ = [first, cross; cross, second] of an exchange. */
export interface Exchanged {
  ag: Float64Array;
  af: Float64Array;
  aag: Float64Array;
  aaf: Float64Array;
  first: number;
  cross: number;
  second: number;
}

/**
 * The rows of a design and A = (Σ wᵢ gᵢ gᵢ' + fixed)⁻¹ in coordinates in which the average variance is tr A. Rows
 * are stored times √w. An exchange changes Σ by a matrix of rank two, so that its worth follows from four inner
 * products and A itself is renewed in p² (Fedorov 1972; the formula of Sherman, Morrison and Woodbury):
 * with Q = [1 + g'Ag, g'Af; g'Af, f'Af - 1] the determinant grows by -det Q and A' = A - A[g f] Q⁻¹ [g f]'A.
 */
export class DesignState {
  readonly p: number;
  readonly criterion: Criterion;
  readonly weights: Float64Array;
  /** N × p, each row times the root of its weight. */
  readonly rows: Float64Array;
  readonly fixed: Float64Array;
  a: Float64Array;
  trace = 0;
  logDet = 0;
  /** False where Σ is singular; the state then stands for Σ + ridge. */
  sound = true;

  constructor(p: number, criterion: Criterion, weights: readonly number[], fixed: Float64Array) {
    this.p = p;
    this.criterion = criterion;
    this.weights = Float64Array.from(weights);
    this.rows = new Float64Array(weights.length * p);
    this.fixed = fixed;
    this.a = new Float64Array(p * p);
  }

  get count(): number {
    return this.weights.length;
  }

  /** The criterion: tr A, or -log det Σ. */
  get score(): number {
    return this.criterion === 'determinant' ? -this.logDet : this.trace;
  }

  setRow(row: number, g: ArrayLike<number>): void {
    const root = Math.sqrt(this.weights[row]!);
    for (let k = 0; k < this.p; k++) this.rows[row * this.p + k] = root * g[k]!;
  }

  /** g as this row would hold it: times the root of its weight. */
  weighted(row: number, g: Float64Array): Float64Array {
    const root = Math.sqrt(this.weights[row]!);
    return root === 1 ? g : g.map((v) => root * v);
  }

  /** Computes A afresh. A singular Σ gets just enough ridge to be inverted, and `sound` says so. */
  rebuild(ridge = 0): void {
    for (let more = ridge; ; more = Math.max(more * 100, 1e-10)) {
      const sum = this.#information(more);
      const logDet = cholesky(sum, this.p, 0, 1e-13);
      if (logDet === null) continue;
      this.sound = more === ridge;
      this.logDet = logDet;
      this.a = inverseFromCholesky(sum, this.p);
      this.trace = traceOf(this.a, this.p);
      return;
    }
  }

  #information(ridge: number): Float64Array {
    const { p } = this;
    const sum = Float64Array.from(this.fixed);
    for (let r = 0; r < this.count; r++)
      for (let i = 0; i < p; i++) {
        const value = this.rows[r * p + i]!;
        if (value === 0) continue;
        for (let j = 0; j <= i; j++) sum[i * p + j] = sum[i * p + j]! + value * this.rows[r * p + j]!;
      }
    for (let i = 0; i < p; i++) {
      sum[i * p + i] = sum[i * p + i]! + ridge;
      for (let j = 0; j < i; j++) sum[j * p + i] = sum[i * p + j]!;
    }
    return sum;
  }

  /** A v. */
  times(v: Float64Array, out: Float64Array = new Float64Array(this.p)): Float64Array {
    const { a, p } = this;
    for (let i = 0; i < p; i++) {
      let sum = 0;
      const row = i * p;
      for (let j = 0; j < p; j++) sum += a[row + j]! * v[j]!;
      out[i] = sum;
    }
    return out;
  }

  leaving(row: number): Leaving {
    const f = this.rows.subarray(row * this.p, (row + 1) * this.p);
    const a = this.times(f);
    return { row, a, b: this.times(a), variance: dot(f, a), square: dot(a, a) };
  }

  /** What an exchange with a row g, already times the root of the weight, gains: one product with A. */
  gainOf(leaving: Leaving, g: Float64Array): number {
    const ag = this.times(g);
    return this.gain(leaving, {
      variance: dot(g, ag),
      square: dot(ag, ag),
      mixed: dot(g, leaving.a),
      mixedSquare: dot(g, leaving.b),
    });
  }

  /** Fall of the criterion if the row is exchanged; -Infinity where that would make Σ singular. */
  gain(out: Leaving, { variance, square, mixed, mixedSquare }: Entering): number {
    const growth = (1 + variance) * (1 - out.variance) + mixed * mixed;
    if (!(growth > 1e-12)) return Number.NEGATIVE_INFINITY;
    if (this.criterion === 'determinant') return Math.log(growth);
    const change =
      ((out.variance - 1) * square - 2 * mixed * mixedSquare + (1 + variance) * out.square) / growth;
    return -change;
  }

  /**
   * Carries an exchange out.
   *
   * @returns what tables of products with A need to follow, all with A as it was.
   */
  exchange(out: Leaving, g: Float64Array): Exchanged {
    const { p, a } = this;
    const ag = this.times(g);
    const variance = dot(g, ag);
    const mixed = dot(g, out.a);
    const det = (1 + variance) * (out.variance - 1) - mixed * mixed;
    const [first, cross, second] = [(out.variance - 1) / det, -mixed / det, (1 + variance) / det];
    const aag = this.times(ag);
    for (let i = 0; i < p; i++) {
      const left = first * ag[i]! + cross * out.a[i]!;
      const right = cross * ag[i]! + second * out.a[i]!;
      for (let j = 0; j < p; j++) a[i * p + j] = a[i * p + j]! - left * ag[j]! - right * out.a[j]!;
    }
    this.rows.set(g, out.row * p);
    this.logDet += Math.log(-det);
    this.trace = traceOf(a, p);
    return { ag, af: out.a, aag, aaf: out.b, first, cross, second };
  }
}

function traceOf(a: Float64Array, p: number): number {
  let sum = 0;
  for (let i = 0; i < p; i++) sum += a[i * p + i]!;
  return sum;
}
