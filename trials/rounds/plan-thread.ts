import { parentPort, workerData } from 'node:worker_threads';
import { oneStart } from '../../engine/design/one-start.ts';
import type { SearchProblem } from '../../engine/design/plan-problem.ts';

/** What a thread is given: the problem, and the numbers of the starts that are its own. */
export interface ThreadTask {
  problem: SearchProblem;
  starts: readonly number[];
}

const { problem, starts } = workerData as ThreadTask;
for (const start of starts) parentPort!.postMessage(oneStart(problem, start));
