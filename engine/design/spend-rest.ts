import { designAt } from './design-at.ts';
import type { PolishedDesign } from './grid-polish.ts';
import { shiftsOf } from './grid-shifts.ts';
import type { GridSpot } from './grid-spot.ts';
import type { PlanProblem } from './plan-problem.ts';
import { mayStand } from './standing.ts';
import { orthonormalTerms } from './term-space.ts';

/** Counted multiplications after which no further move is looked for. */
const MOST_WORK = 3e8;

interface Move {
  row: number;
  spot: GridSpot;
  saving: number;
}

/**
 * Spends what is left below a limit of the criterion: as long as some mix can be put elsewhere without exceeding it,
 * among the candidates or by whole steps between two components, the move that saves most is made.
 *
 * @param costOf what a mix at a place costs
 */
export function spendRest(
  problem: PlanProblem,
  { spots, weights }: Pick<PolishedDesign, 'spots' | 'weights'>,
  {
    candidates,
    limit,
    costOf,
  }: { candidates: readonly GridSpot[]; limit: number; costOf: (spot: GridSpot) => number },
): PolishedDesign {
  const now = [...spots];
  const p = problem.space.terms.length;
  const taking = { spots: now, weights };
  const state = designAt(problem, spots, weights);
  const rowOf = (row: number, { shares, coded }: GridSpot) =>
    state.weighted(row, orthonormalTerms(problem.space, shares, coded));
  let work = 0;
  const bestMove = (): Move | null => {
    let best: Move | null = null;
    for (let row = 0; row < now.length; row++) {
      const leaving = state.leaving(row);
      const here = costOf(now[row]!);
      for (const spot of [...candidates, ...shiftsOf(problem, now[row]!)]) {
        const saving = weights[row]! * (here - costOf(spot));
        if (saving <= (best?.saving ?? 1e-12)) continue;
        work += 2 * p * p;
        const gain = state.gainOf(leaving, rowOf(row, spot));
        if (state.score - gain <= limit && mayStand(problem, taking, row, spot)) best = { row, spot, saving };
      }
    }
    return best;
  };
  for (let move = bestMove(); move !== null && work < MOST_WORK; move = bestMove()) {
    const { row, spot } = move;
    state.exchange(state.leaving(row), rowOf(row, spot));
    now[row] = spot;
  }
  state.rebuild();
  return { score: state.score, spots: now, weights, state };
}
