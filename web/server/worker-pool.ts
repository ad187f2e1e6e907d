import { MessageChannel } from 'node:worker_threads';
import Tinypool from 'tinypool';
import { EngineError } from '../../engine/errors.ts';
import type { Assignment } from '../../trials/rounds/readings.ts';
import type { Answered, Progress, Task } from './worker.ts';

/** A computation under way. */
interface Run {
  result: Promise<unknown>;
  cancel(): void;
  wasCancelled(): boolean;
}

/** Threads that compute. */
export interface WorkerPool {
  run(assignment: Assignment, progress: (share: number, doing: string) => void): Run;
  close(): Promise<void>;
}

/** A thread that does not stop when asked is ended after this many milliseconds. */
const PATIENCE = 1500;

/** @param worker the built worker file; threads are made when first needed */
export function workerPool(worker: string, threads: number): WorkerPool {
  let pool: Tinypool | null = null;
  const thePool = () =>
    (pool ??= new Tinypool({ filename: worker, minThreads: 0, maxThreads: threads, idleTimeout: 60_000 }));
  return {
    run: (assignment, progress) => runIn(thePool(), assignment, progress),
    close: async () => {
      await pool?.destroy();
    },
  };
}

function runIn(
  pool: Tinypool,
  assignment: Assignment,
  progress: (share: number, doing: string) => void,
): Run {
  const { port1, port2 } = new MessageChannel();
  const flag = new SharedArrayBuffer(4);
  const abort = new AbortController();
  let cancelled = false;
  port1.on('message', ({ share, doing }: Progress) => progress(share, doing));
  const { kind, input, seed } = assignment;
  const task: Task = { kind, input, seed, port: port2, flag };
  const result = pool
    .run(task, { transferList: [port2], signal: abort.signal })
    .then((answer: Answered) => resultOf(answer))
    .finally(() => port1.close());
  const cancel = () => {
    if (cancelled) return;
    cancelled = true;
    Atomics.store(new Int32Array(flag), 0, 1);
    const late = setTimeout(() => abort.abort(), PATIENCE);
    result.catch(() => undefined).finally(() => clearTimeout(late));
  };
  return { result, cancel, wasCancelled: () => cancelled };
}

/** The worker's answer: what was misused crosses the thread as plain data and is thrown again here. */
function resultOf(answer: Answered): unknown {
  if ('result' in answer) return JSON.parse(answer.result);
  const { fault, argument, found, allowed, message } = answer.misuse;
  throw new EngineError(fault, argument, found, allowed, message);
}
