import loadHighs from 'highs';
import { createLinearSolver } from '../engine/numeric/highs-solver.ts';
import type { LinearSolver } from '../engine/numeric/linear-solver.ts';

/** The package types its loader as CommonJS; as an ES module its default export is the loader itself. */
const load = loadHighs as unknown as typeof loadHighs.default;

let loading: Promise<LinearSolver> | null = null;

/** The solver of linear programs, loaded once: the engine knows no file, so loading it is done here. */
export function loadSolver(): Promise<LinearSolver> {
  loading ??= load().then(createLinearSolver);
  return loading;
}
