import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import type { WorldResult, WorldTask } from './aim-world.ts';

type Answer = { result: WorldResult } | { failed: string };

/**
 * Plays worlds in worker threads, one thread a core; results come in the order of the tasks whatever the threads.
 * @param until no world is begun after this moment (milliseconds as by `performance.now`)
 */
export async function playWorlds(
  tasks: readonly WorldTask[],
  until: number,
  done: (result: WorldResult) => void,
): Promise<WorldResult[]> {
  const results: (WorldResult | undefined)[] = tasks.map(() => undefined);
  let next = 0;
  const work = async () => {
    const worker = new Worker(new URL('./aim-worker.mjs', import.meta.url));
    try {
      while (next < tasks.length && performance.now() < until) {
        const place = next++;
        const answer = await ask(worker, tasks[place]!);
        if ('failed' in answer) throw new Error(answer.failed);
        results[place] = answer.result;
        done(answer.result);
      }
    } finally {
      await worker.terminate();
    }
  };
  await Promise.all(Array.from({ length: Math.min(availableParallelism(), tasks.length) }, work));
  return results.filter((result) => result !== undefined);
}

function ask(worker: Worker, task: WorldTask): Promise<Answer> {
  return new Promise((resolve, reject) => {
    worker.once('message', (answer: Answer) => {
      worker.off('error', reject);
      resolve(answer);
    });
    worker.once('error', reject);
    worker.postMessage(task);
  });
}
