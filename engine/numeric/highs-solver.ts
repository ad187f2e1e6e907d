import type { Highs, Model } from 'highs';
import { EngineError } from '../errors.ts';
import type { Conflict, LinearOutcome, LinearProgram, LinearSolver } from './linear-solver.ts';

/**
 * The solver interface over a loaded HiGHS. Each program lives in a model of its own, disposed when it is
 * answered; rows go in sparse form. A program that HiGHS cannot settle is `failed` with its status, never guessed.
 */
export function createLinearSolver(highs: Highs): LinearSolver {
  const solve = (program: LinearProgram): LinearOutcome =>
    highs.withModel(toModel(highs, program), (model) => {
      model.options.set({
        output_flag: false,
        primal_feasibility_tolerance: 1e-10,
        dual_feasibility_tolerance: 1e-10,
      });
      return read(highs, model, program);
    });
  return { solve, explain: (program) => explain(solve, program) };
}

function read(highs: Highs, model: Model, program: LinearProgram): LinearOutcome {
  const codes = highs.constants.modelStatus;
  const { modelStatus } = model.run();
  if (modelStatus === codes.optimal || modelStatus === codes.empty) {
    const x = Array.from(model.getSolution().colValue);
    return { status: 'optimal', x, objective: x.reduce((sum, v, j) => sum + v * program.objective[j]!, 0) };
  }
  if (modelStatus === codes.infeasible) return { status: 'infeasible' };
  if (modelStatus === codes.unbounded) return { status: 'unbounded' };
  if (modelStatus === codes.unboundedOrInfeasible) return settle(highs, program);
  return { status: 'failed', reason: `the solver stopped with status ${modelStatus}` };
}

/** Without an objective there is nothing to be unbounded in. */
function settle(highs: Highs, program: LinearProgram): LinearOutcome {
  const flat = { ...program, objective: program.objective.map(() => 0) };
  const outcome = createLinearSolver(highs).solve(flat);
  return outcome.status === 'optimal' ? { status: 'unbounded' } : outcome;
}

function toModel(highs: Highs, program: LinearProgram) {
  const n = program.objective.length;
  if (
    program.low.length !== n ||
    program.high.length !== n ||
    program.rows.some((r) => r.coefficients.length !== n)
  ) {
    throw new EngineError('bad-argument', 'program', n, 'limits and rows as long as the objective');
  }
  const starts = [0];
  const indices: number[] = [];
  const values: number[] = [];
  for (const row of program.rows) {
    row.coefficients.forEach((value, j) => {
      if (value === 0) return;
      indices.push(j);
      values.push(value);
    });
    starts.push(indices.length);
  }
  const { minimize, maximize } = highs.constants.objectiveSense;
  const { integer, continuous } = highs.constants.variableType;
  return {
    numCols: n,
    numRows: program.rows.length,
    sense: program.sense === 'minimise' ? minimize : maximize,
    colCost: program.objective,
    colLower: program.low,
    colUpper: program.high,
    rowLower: program.rows.map((r) => r.least),
    rowUpper: program.rows.map((r) => r.most),
    matrix: { format: 'csr' as const, numRows: program.rows.length, numCols: n, starts, indices, values },
    ...(program.integer
      ? { integrality: program.integer.map((whole) => (whole ? integer : continuous)) }
      : {}),
  };
}

/**
 * A smallest conflict by deletion: each row, then each column limit, is left out in turn and stays out where the
 * rest still conflicts; what remains conflicts and would not without any one of its parts (Chinneck and
 * Dravnieks 1991).
 */
function explain(solve: LinearSolver['solve'], program: LinearProgram): Conflict | null {
  let now: LinearProgram = { ...program, objective: program.objective.map(() => 0) };
  if (solve(now).status !== 'infeasible') return null;
  const conflict: Conflict = { rows: [], columns: [] };
  program.rows.forEach((_, i) => {
    const freed = {
      ...now,
      rows: now.rows.map((r, k) => (k === i ? { ...r, least: -Infinity, most: Infinity } : r)),
    };
    if (solve(freed).status === 'infeasible') now = freed;
    else conflict.rows.push(i);
  });
  program.low.forEach((_, j) => {
    const freed = { ...now, low: now.low.with(j, -Infinity), high: now.high.with(j, Infinity) };
    if (solve(freed).status === 'infeasible') now = freed;
    else conflict.columns.push(j);
  });
  return conflict;
}
