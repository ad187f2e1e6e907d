import { EngineError } from '../errors.ts';
import { innerProduct } from '../numeric/dense.ts';
import type { LinearSolver } from '../numeric/linear-solver.ts';
import type { Limit } from './limits.ts';

/** Ranges of the shares that follow from low, high and the sum alone. */
export interface ShareBox {
  low: number[];
  high: number[];
}

/** Two limits this close, relative to 1, are taken as one and the same. */
const TOUCHING = 1e-12;

/**
 * Columns run from 0 to this, not to 1, so that the solver's absolute tolerance is as small against a component
 * of 0.002 to 0.01 as against one of 0.2 to 0.7.
 */
const UNIT = 1e4;

/** Low and high narrowed by the sum: no share can exceed what the lows of all others leave. Null = no mix. */
export function boxOf(limits: readonly Limit[], q: number): ShareBox | null {
  const low = new Array<number>(q).fill(0);
  const high = new Array<number>(q).fill(1);
  for (const { kind, index, at } of limits) {
    if (kind === 'low') low[index] = at;
    else if (kind === 'high') high[index] = -at;
  }
  const sumLow = low.reduce((a, b) => a + b, 0);
  const sumHigh = high.reduce((a, b) => a + b, 0);
  const box = {
    low: low.map((l, i) => Math.max(l, 1 - (sumHigh - high[i]!))),
    high: high.map((h, i) => Math.min(h, 1 - (sumLow - low[i]!))),
  };
  if (sumLow > 1 + TOUCHING || sumHigh < 1 - TOUCHING) return null;
  if (low.some((l, i) => l > high[i]! + TOUCHING)) return null;
  const lowest = box.low.map((l, i) => tidy(l, low[i]!));
  return { low: lowest, high: box.high.map((h, i) => tidy(tidy(h, high[i]!), lowest[i]!)) };
}

function tidy(value: number, given: number): number {
  return Math.abs(value - given) <= TOUCHING ? given : value;
}

/** Linear programs over the shares inside a box, in columns that suit the solver. */
export class ShareProgram {
  readonly #solver: LinearSolver;
  readonly #box: ShareBox;
  readonly #width: number[];
  readonly #rows: { coefficients: number[]; least: number; most: number }[];

  /** `limits`: the sides of bounds that must hold beside the box and the sum. */
  constructor(solver: LinearSolver, box: ShareBox, limits: readonly Limit[]) {
    this.#solver = solver;
    this.#box = box;
    this.#width = box.low.map((l, i) => Math.max(0, box.high[i]! - l));
    const ones = box.low.map(() => 1);
    this.#rows = [
      this.#scaledRow(ones, 1, true),
      ...limits
        .filter(({ kind }) => kind === 'least' || kind === 'most')
        .map(({ coefficients, at }) => this.#scaledRow(coefficients, at, false)),
    ];
  }

  /** The largest relative amount by which some limit must be missed; 0 where a mix exists. */
  leastMiss(): number {
    const q = this.#width.length;
    const rows = this.#rows.map((row, r) => ({
      ...row,
      coefficients: [...row.coefficients, r === 0 ? 0 : 1],
    }));
    const outcome = this.#solver.solve({
      objective: [...new Array<number>(q).fill(0), 1],
      sense: 'minimise',
      rows,
      low: new Array<number>(q + 1).fill(0),
      high: [...this.#width.map(() => UNIT), Number.POSITIVE_INFINITY],
    });
    if (outcome.status !== 'optimal') throw solverFailed(outcome.status);
    return outcome.objective / UNIT;
  }

  /** The mix with the most (or least) of coefficients·shares. The region must not be empty. */
  extreme(coefficients: readonly number[], sense: 'minimise' | 'maximise'): number[] {
    const objective = coefficients.map((c, i) => c * this.#width[i]!);
    const largest = Math.max(...objective.map(Math.abs));
    if (largest === 0 && this.#width.every((w) => w === 0)) return [...this.#box.low];
    const outcome = this.#solver.solve({
      objective: objective.map((c) => (largest > 0 ? c / largest : 0)),
      sense,
      rows: this.#rows,
      low: this.#width.map(() => 0),
      high: this.#width.map(() => UNIT),
    });
    if (outcome.status !== 'optimal') throw solverFailed(outcome.status);
    return outcome.x.map((v, i) => this.#box.low[i]! + (this.#width[i]! * v) / UNIT);
  }

  #scaledRow(coefficients: readonly number[], at: number, exact: boolean) {
    const row = coefficients.map((c, i) => c * this.#width[i]!);
    const largest = Math.max(...row.map(Math.abs));
    const size = largest > 0 ? largest : 1;
    const least = ((at - innerProduct(coefficients, this.#box.low)) * UNIT) / size;
    return {
      coefficients: row.map((c) => c / size),
      least,
      most: exact ? least : Number.POSITIVE_INFINITY,
    };
  }
}

function solverFailed(status: string): EngineError {
  return new EngineError(
    'solver-failed',
    'bounds',
    status,
    'bounds that the linear program solver can settle',
    `the linear program over the shares could not be settled (${status})`,
  );
}
