import { EngineError } from '../errors.ts';
import { cholesky, innerProduct, solveLower, solveLowerTransposed } from './dense.ts';

export interface Minimum {
  x: number[];
  value: number;
  /** `converged`: no slope left within the bounds; `stopped`: out of evaluations, or no lower point was found. */
  status: 'converged' | 'stopped';
  evaluations: number;
}

export interface BoundedFunction {
  value(x: readonly number[]): number;
  /** Default: central differences. */
  gradient?(x: readonly number[]): number[];
  low: readonly number[];
  high: readonly number[];
}

export interface QuasiNewtonOptions {
  /** Largest slope within the bounds that counts as none, times max(1, |value|); default 1e-8. */
  tolerance?: number;
  /** Default 2000. */
  evaluations?: number;
}

/**
 * Minimises a smooth function within bounds by projected quasi-Newton steps: coordinates held at a bound by the slope
 * rest, the others follow the inverse of a damped BFGS matrix (Nocedal and Wright 2006, Numerical Optimization,
 * procedure 18.2), shortened until the value falls (Armijo), every point projected into the bounds (Bertsekas 1982).
 *
 * @throws EngineError `bad-argument` where start and bounds differ in length or the value at the start is not finite
 */
export function minimiseWithin(
  problem: BoundedFunction,
  start: readonly number[],
  { tolerance = 1e-8, evaluations = 2000 }: QuasiNewtonOptions = {},
): Minimum {
  const search = new Search(problem, start, evaluations);
  for (;;) {
    if (search.slope() <= tolerance * Math.max(1, Math.abs(search.value))) return search.result('converged');
    if (!search.step()) return search.result(search.slope() <= 1e3 * tolerance ? 'converged' : 'stopped');
  }
}

class Search {
  value: number;
  #x: number[];
  #gradient: number[];
  #curvature: Float64Array;
  #spent = 0;
  readonly #problem: BoundedFunction;
  readonly #most: number;

  constructor(problem: BoundedFunction, start: readonly number[], most: number) {
    const n = start.length;
    if (problem.low.length !== n || problem.high.length !== n)
      throw new EngineError('bad-argument', 'start', n, 'as many numbers as there are bounds');
    this.#problem = problem;
    this.#most = most;
    this.#x = this.#inside(start);
    this.value = this.#evaluate(this.#x);
    if (!Number.isFinite(this.value))
      throw new EngineError('bad-argument', 'start', this.value, 'a point with a finite value');
    this.#gradient = this.#slopes();
    this.#curvature = new Float64Array(n * n);
    for (let i = 0; i < n; i++) this.#curvature[i * n + i] = Math.max(1, Math.abs(this.#gradient[i]!));
  }

  /** The largest slope along which the bounds leave room. */
  slope(): number {
    return Math.max(0, ...this.#free().map((i) => Math.abs(this.#gradient[i]!)));
  }

  result(status: Minimum['status']): Minimum {
    return { x: [...this.#x], value: this.value, status, evaluations: this.#spent };
  }

  step(): boolean {
    const direction = this.#direction();
    const promised = (to: readonly number[]) =>
      to.reduce((sum, v, i) => sum + this.#gradient[i]! * (v - this.#x[i]!), 0);
    for (let length = 1; length > 1e-14 && this.#spent < this.#most; length /= 2) {
      const to = this.#inside(this.#x.map((v, i) => v + length * direction[i]!));
      const value = this.#evaluate(to);
      if (!(value <= this.value + 1e-4 * promised(to)) || value >= this.value) continue;
      this.#accept(to, value);
      return true;
    }
    return false;
  }

  #accept(to: number[], value: number): void {
    const before = this.#gradient;
    const move = to.map((v, i) => v - this.#x[i]!);
    this.#x = to;
    this.value = value;
    this.#gradient = this.#slopes();
    this.#learn(
      move,
      this.#gradient.map((g, i) => g - before[i]!),
    );
  }

  /** Powell's damped update, which keeps the matrix positive definite. */
  #learn(move: readonly number[], turn: readonly number[]): void {
    const n = move.length;
    const along = move.map((_, i) => move.reduce((sum, m, j) => sum + this.#curvature[i * n + j]! * m, 0));
    const seen = innerProduct(move, along);
    const met = innerProduct(move, turn);
    const share = met >= 0.2 * seen ? 1 : (0.8 * seen) / (seen - met);
    const used = turn.map((t, i) => share * t + (1 - share) * along[i]!);
    const scale = innerProduct(move, used);
    if (!(scale > 0) || !(seen > 0)) return;
    for (let i = 0; i < n; i++)
      for (let j = 0; j < n; j++)
        this.#curvature[i * n + j]! += (used[i]! * used[j]!) / scale - (along[i]! * along[j]!) / seen;
  }

  #direction(): number[] {
    const n = this.#x.length;
    const free = this.#free();
    const matrix = new Float64Array(free.length ** 2);
    free.forEach((i, a) => {
      free.forEach((j, b) => {
        matrix[a * free.length + b] = this.#curvature[i * n + j]!;
      });
    });
    const step = Float64Array.from(free, (i) => -this.#gradient[i]!);
    if (cholesky(matrix, free.length) !== null) {
      const triangle = { l: matrix, n: free.length, at: 0 };
      solveLower(triangle, step, 1);
      solveLowerTransposed(triangle, step, 1);
    }
    const out = new Array<number>(n).fill(0);
    free.forEach((i, a) => {
      out[i] = step[a]!;
    });
    return out;
  }

  #free(): number[] {
    const { low, high } = this.#problem;
    return this.#x.flatMap((v, i) => {
      const held = (v <= low[i]! && this.#gradient[i]! > 0) || (v >= high[i]! && this.#gradient[i]! < 0);
      return held ? [] : [i];
    });
  }

  #inside(x: readonly number[]): number[] {
    return x.map((v, i) => Math.min(this.#problem.high[i]!, Math.max(this.#problem.low[i]!, v)));
  }

  #evaluate(x: readonly number[]): number {
    this.#spent++;
    return this.#problem.value(x);
  }

  #slopes(): number[] {
    return this.#problem.gradient?.(this.#x) ?? this.#x.map((_, i) => this.#difference(i));
  }

  /** Central where the bounds leave room, else one-sided. */
  #difference(i: number): number {
    const v = this.#x[i]!;
    const width = 6e-6 * Math.max(1, Math.abs(v));
    const up = Math.min(this.#problem.high[i]!, v + width);
    const down = Math.max(this.#problem.low[i]!, v - width);
    if (up === down) return 0;
    return (this.#evaluate(this.#x.with(i, up)) - this.#evaluate(this.#x.with(i, down))) / (up - down);
  }
}
