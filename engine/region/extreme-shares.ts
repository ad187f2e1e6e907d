import type { LinearSolver } from '../numeric/linear-solver.ts';
import type { BlendSpace } from './blend-space.ts';
import { limitsOf } from './limits.ts';
import { boxOf, ShareProgram } from './share-program.ts';

/**
 * The ratio of an allowed region that holds the most (or least) of a weighted sum of its shares.
 *
 * @param coefficients one a component, in their order
 * @returns the shares, or null where the region holds no point
 */
export function extremeShares(
  space: BlendSpace,
  coefficients: readonly number[],
  sense: 'minimise' | 'maximise',
  solver: LinearSolver,
): number[] | null {
  const limits = limitsOf(space);
  const box = boxOf(limits, space.components.length);
  if (box === null) return null;
  const program = new ShareProgram(solver, box, limits);
  return program.leastMiss() > 1e-9 ? null : program.extreme(coefficients, sense);
}
