import { planBottles } from './bottle-search.ts';
import type { SearchProblem } from './plan-problem.ts';
import { planStart, type StartResult } from './plan-start.ts';

/** One search from a random beginning; it depends on the problem and the number of the start alone. */
export function oneStart(problem: SearchProblem, start: number): StartResult {
  return problem.perBottle > 1 ? planBottles(problem, start) : planStart(problem, start);
}
