import { dot } from '../numeric/dense.ts';
import type { Spot } from './candidate-table.ts';
import type { DesignState } from './design-state.ts';
import { blendLines, settingLines, spotOn, termsOnLine, varianceOnLine } from './line-move.ts';
import type { PlanProblem } from './plan-problem.ts';
import { orthonormalTerms } from './term-space.ts';

const CLIMBS = 6;
const ROUNDS = 8;

/** The largest f'(X'X)⁻¹f found: over the candidates, then by climbing along lines from the best of them. */
export function largestVariance(problem: PlanProblem, state: DesignState, spots: readonly Spot[]): number {
  const value = ({ shares, coded }: Spot): number => {
    const g = orthonormalTerms(problem.space, shares, coded);
    return dot(g, state.times(g));
  };
  const ranked = spots
    .map((spot) => ({ spot, variance: value(spot) }))
    .sort((a, b) => b.variance - a.variance)
    .slice(0, CLIMBS);
  return Math.max(...ranked.map(({ spot, variance }) => climb(problem, state, { spot, variance, value })));
}

interface Climb {
  spot: Spot;
  variance: number;
  value: (spot: Spot) => number;
}

function climb(problem: PlanProblem, state: DesignState, { spot: from, variance, value }: Climb): number {
  const { region, space, directions, degree } = problem;
  let spot = from;
  let best = variance;
  for (let round = 0; round < ROUNDS; round++) {
    const before = best;
    const lines = [...blendLines(region, spot, directions), ...settingLines(region, spot)];
    let next = spot;
    for (const line of lines) {
      const terms = termsOnLine(space, line, line.shares === null ? 2 : Math.max(1, degree));
      const { t, gain } = varianceOnLine(state, line, terms);
      if (gain <= best * (1 + 1e-9)) continue;
      const reached = spotOn(line, t);
      const exact = value(reached);
      if (exact <= best) continue;
      best = exact;
      next = reached;
    }
    spot = next;
    if (best - before <= 1e-9 * best) return best;
  }
  return best;
}
