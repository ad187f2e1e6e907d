import { readFileSync } from 'node:fs';
import loadHighs from 'highs';
import { beforeAll, expect, test } from 'vitest';
import { createLinearSolver } from '../../../engine/numeric/highs-solver.ts';
import type { LinearProgram, LinearSolver } from '../../../engine/numeric/linear-solver.ts';
import { expectClose } from './closeness.ts';

interface Stored {
  objective: number[];
  rows: LinearProgram['rows'];
  status: string;
  value: number | null;
}

const { programs }: { programs: Stored[] } = JSON.parse(
  readFileSync('tests/reference/numeric/numeric.json', 'utf8'),
);
/** The package types its loader as CommonJS; as an ES module its default export is the loader itself. */
const load = loadHighs as unknown as typeof loadHighs.default;
let solver: LinearSolver;

beforeAll(async () => {
  solver = createLinearSolver(await load());
});

/** Shares between 0 and 1 that sum to one, within the stored rows. */
function programOf({ objective, rows }: Stored): LinearProgram {
  const n = objective.length;
  const ones = { coefficients: new Array<number>(n).fill(1), least: 1, most: 1 };
  return {
    objective,
    sense: 'minimise',
    rows: [...rows, ones],
    low: new Array<number>(n).fill(0),
    high: new Array<number>(n).fill(1),
  };
}

test('optima and verdicts against SciPy', () => {
  for (const stored of programs) {
    const program = programOf(stored);
    const found = solver.solve(program);
    expect(found.status).toBe(stored.status);
    if (found.status !== 'optimal') continue;
    expectClose(found.objective, stored.value!, 1e-9, 1e-9);
    for (const row of program.rows) {
      const at = row.coefficients.reduce((sum, c, j) => sum + c * found.x[j]!, 0);
      expect(at).toBeGreaterThan(row.least - 1e-9);
      expect(at).toBeLessThan(row.most + 1e-9);
    }
  }
});

test('a conflict really conflicts, and no part of it can be spared', () => {
  let explained = 0;
  for (const stored of programs) {
    const program = programOf(stored);
    const conflict = solver.explain(program);
    expect(conflict === null).toBe(stored.status === 'optimal');
    if (!conflict) continue;
    explained++;
    const only = (rows: number[], columns: number[]): LinearProgram => ({
      ...program,
      objective: program.objective.map(() => 0),
      rows: rows.map((i) => program.rows[i]!),
      low: program.low.map((v, j) => (columns.includes(j) ? v : -Infinity)),
      high: program.high.map((v, j) => (columns.includes(j) ? v : Infinity)),
    });
    const { rows, columns } = conflict;
    expect(solver.solve(only(rows, columns)).status).toBe('infeasible');
    for (const row of rows)
      expect(
        solver.solve(
          only(
            rows.filter((i) => i !== row),
            columns,
          ),
        ).status,
      ).toBe('optimal');
    for (const column of columns)
      expect(
        solver.solve(
          only(
            rows,
            columns.filter((j) => j !== column),
          ),
        ).status,
      ).toBe('optimal');
  }
  expect(explained).toBe(12);
});

test('maximising, whole numbers, unbounded programs, two rows a hair apart', () => {
  const base = { objective: [3, 2], low: [0, 0], high: [Infinity, Infinity] };
  const rows = [
    { coefficients: [2, 1], least: -Infinity, most: 7.5 },
    { coefficients: [1, 3], least: -Infinity, most: 9 },
  ];
  const best = solver.solve({ ...base, sense: 'maximise', rows });
  expect(best).toMatchObject({ status: 'optimal' });
  if (best.status === 'optimal') expectClose(best.objective, 3 * 2.7 + 2 * 2.1, 1e-12);
  const whole = solver.solve({ ...base, sense: 'maximise', rows, integer: [true, true] });
  if (whole.status === 'optimal') expect(whole.x.map((v) => Math.round(v * 1e9) / 1e9)).toEqual([3, 1]);
  expect(whole.status).toBe('optimal');
  expect(solver.solve({ ...base, sense: 'maximise', rows: [] }).status).toBe('unbounded');
  const apart = [
    { coefficients: [1, 1], least: 1, most: 1 },
    { coefficients: [2, 2], least: 2.0002, most: 3 },
    { coefficients: [1, 0], least: 0.1, most: 0.9 },
  ];
  expect(solver.explain({ ...base, sense: 'minimise', rows: apart })).toEqual({ rows: [0, 1], columns: [] });
});

test('lengths that do not fit are refused', () => {
  const program = { objective: [1], sense: 'minimise' as const, rows: [], low: [0, 0], high: [1] };
  expect(() => solver.solve(program)).toThrow(/program/);
});
