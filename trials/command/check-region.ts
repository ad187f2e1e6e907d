import { describeRegion } from '../../engine/region/describe-region.ts';
import type { Brief } from '../schema/brief.ts';
import { byId, toBlendSpace } from '../schema/engine-shapes.ts';
import { loadSolver } from '../solver.ts';

/**
 * Makes sure that a brief allows some mix, for commands that need no more of its region.
 *
 * @returns warnings on bounds that make others unreachable
 * @throws EngineError `empty-region`
 */
export async function checkRegion(brief: Brief): Promise<readonly string[]> {
  const names = byId(brief.components, ({ name }) => name);
  return describeRegion(toBlendSpace(brief), await loadSolver(), { names, workLimit: 1 }).warnings;
}
