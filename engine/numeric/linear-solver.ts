/**
 * A linear or mixed-integer linear program: optimise `objective`·x with `least` ≤ row·x ≤ `most` and
 * `low` ≤ x ≤ `high`. Infinite limits are allowed. `integer[j]` asks for a whole x[j].
 */
export interface LinearProgram {
  objective: readonly number[];
  sense: 'minimise' | 'maximise';
  rows: readonly { coefficients: readonly number[]; least: number; most: number }[];
  low: readonly number[];
  high: readonly number[];
  integer?: readonly boolean[];
}

export type LinearOutcome =
  | { status: 'optimal'; x: number[]; objective: number }
  | { status: 'infeasible' }
  | { status: 'unbounded' }
  | { status: 'failed'; reason: string };

/** A smallest set of rows and column limits that cannot hold together. */
export interface Conflict {
  rows: number[];
  columns: number[];
}

/** The program solver, already loaded: loading it is the caller's business, since the engine knows no file. */
export interface LinearSolver {
  solve(program: LinearProgram): LinearOutcome;
  /** Null when the program is feasible after all. */
  explain(program: LinearProgram): Conflict | null;
}
