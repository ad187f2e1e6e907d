import { checkpoint, type Hooks } from '../hooks.ts';
import { createRandom } from '../numeric/random.ts';
import type { Spot } from './candidate-table.ts';
import { pairVariance } from './judge-plan.ts';
import { candidateSpots, prepareProblem } from './plan-problem.ts';
import { settle, tableOf } from './plan-start.ts';
import type { PlanInput, PlanTools } from './plan-types.ts';

/** What so many mixes would teach. */
export interface KnowledgePoint {
  mixes: number;
  averageVariance: number;
  /** Mean variance of the difference of two mixes picked anywhere. */
  pairVariance: number;
  /** The mixes, not yet on the grid of the balance. */
  spots: readonly Spot[];
}

/** Candidates of the search; more would hardly change a curve. */
const MOST = 1200;
const BEGINNINGS = 8;

/**
 * Knowledge against the number of mixes, in one and the same model: the one asked for, else the quadratic, with prior
 * information on all that as few mixes as components cannot settle (DuMouchel and Jones 1994), so that every number
 * of mixes is judged alike. Each design grows from the one before by the mix that helps most and then settles: the
 * curve never rises.
 *
 * @param sizes numbers of new mixes to report; those below the number of components are left out.
 * @throws as `planMixes` does
 */
export function knowledgeCurve(
  input: PlanInput,
  sizes: readonly number[],
  tools: PlanTools,
  hooks?: Hooks,
): KnowledgePoint[] {
  const least = input.space.components.length;
  const asked = [...new Set(sizes)].filter((size) => size >= least).sort((a, b) => a - b);
  const model = input.model ?? 'quadratic';
  const problem = prepareProblem({ ...input, mixes: least, replicated: 0, model }, tools);
  const random = createRandom(input.seed, 'curve');
  const spots = random.shuffle(candidateSpots(problem, random)).slice(0, MOST);
  const table = tableOf(problem, spots);
  let found = Array.from({ length: BEGINNINGS }, () =>
    settle(
      problem,
      table,
      Array.from({ length: least }, () => spots[random.integer(spots.length)]!),
    ),
  ).reduce((a, b) => (b.state.score < a.state.score ? b : a));
  const last = asked.at(-1) ?? least;
  const curve: KnowledgePoint[] = [];
  for (let size = least; ; size++) {
    checkpoint(hooks, (size - least) / (last - least + 1), `weighing up ${size} mixes`);
    if (asked.includes(size)) {
      found = settle(problem, table, found.spots);
      if (found.state.sound)
        curve.push({
          mixes: size,
          averageVariance: found.state.trace,
          pairVariance: pairVariance(problem, found.state),
          spots: found.spots,
        });
    }
    if (size >= last) return curve;
    table.refresh(found.state);
    const added = [...found.spots, table.spots[table.bestAddition(found.state)]!];
    found = asked.includes(size + 1) ? settle(problem, table, added) : grown(problem, added);
  }
}

function grown(problem: Parameters<typeof settle>[0], spots: readonly Spot[]) {
  return settle(problem, tableOf(problem, []), spots);
}
