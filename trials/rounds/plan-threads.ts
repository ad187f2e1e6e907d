import { Worker } from 'node:worker_threads';
import { finishPlan, planMixes, startsOf } from '../../engine/design/plan-mixes.ts';
import { type PlanProblem, prepareProblem } from '../../engine/design/plan-problem.ts';
import { type StartResult, workOfStart } from '../../engine/design/plan-start.ts';
import type { PlanInput, PlanResult, PlanTools } from '../../engine/design/plan-types.ts';
import { checkpoint, type Hooks } from '../../engine/hooks.ts';
import type { ThreadTask } from './plan-thread.ts';

/** Counted multiplications of one start, some 0.2 s, below which a thread costs more than it saves. */
const WORTH_A_THREAD = 5e7;

interface Threads extends PlanTools {
  hooks?: Hooks | undefined;
  /** Threads that search at once; 1 searches in this one. */
  workers: number;
  /** Default 5e7 multiplications a start: below it nothing is divided. */
  worthAThread?: number | undefined;
}

/**
 * The same plan as `planMixes`, byte for byte, with the starts of the search divided among threads: a start depends
 * on the problem and its own number alone, and the best is the same in whatever order they come back.
 */
export async function planInThreads(
  input: PlanInput,
  { solver, hooks, workers, worthAThread = WORTH_A_THREAD }: Threads,
): Promise<PlanResult> {
  if (workers <= 1) return planMixes(input, { solver }, hooks);
  checkpoint(hooks, 0, 'describing what may be mixed');
  const problem = prepareProblem(input, { solver });
  const used = Math.min(workers, startsOf(problem));
  if (used <= 1 || workOfStart(problem) < worthAThread) return planMixes(input, { solver }, hooks);
  return finishPlan(problem, await searchApart(problem, used, hooks), hooks);
}

function searchApart(problem: PlanProblem, workers: number, hooks?: Hooks): Promise<StartResult[]> {
  const count = startsOf(problem);
  const { solver: _, ...search } = problem;
  const threads: Worker[] = [];
  const results: StartResult[] = [];
  return new Promise<StartResult[]>((resolve, reject) => {
    const take = (result: StartResult): void => {
      results.push(result);
      try {
        checkpoint(hooks, 0.1 + (0.7 * results.length) / count, `searching, ${results.length} of ${count}`);
      } catch (stopped) {
        reject(stopped);
      }
      if (results.length === count) resolve(results);
    };
    for (let w = 0; w < workers; w++) {
      const starts = Array.from({ length: count }, (_, k) => k).filter((k) => k % workers === w);
      const thread = startThread({ problem: search, starts });
      thread.on('message', take);
      thread.on('error', reject);
      threads.push(thread);
    }
  }).finally(() => Promise.all(threads.map((thread) => thread.terminate())));
}

/** A thread that runs the file beside this one. Uncompiled, it must first load what reads TypeScript. */
function startThread(workerData: ThreadTask): Worker {
  if (!import.meta.url.endsWith('.ts'))
    return new Worker(new URL('./plan-thread.js', import.meta.url), { workerData });
  const { href } = new URL('./plan-thread.ts', import.meta.url);
  const load = `import('tsx/esm/api').then(({ register }) => { register(); return import('${href}'); });`;
  return new Worker(load, { workerData, eval: true });
}
