import type { MessagePort } from 'node:worker_threads';
import { EngineError, type EngineFault } from '../../engine/errors.ts';
import { computeAssignment } from '../../trials/rounds/compute-assignment.ts';
import type { Assignment } from '../../trials/rounds/readings.ts';

/** What a thread is given. */
export interface Task extends Pick<Assignment, 'kind' | 'input' | 'seed'> {
  port: MessagePort;
  /** Set to 1 to ask the computation to stop. */
  flag: SharedArrayBuffer;
}

export interface Progress {
  share: number;
  doing: string;
}

/** The result as JSON text, or what was misused. */
export type Answered =
  | { result: string }
  | { misuse: { fault: EngineFault; argument: string; found: unknown; allowed: string; message: string } };

/** Least milliseconds between two words of progress. */
const BEAT = 100;

/** Runs one computation in this thread. */
export default async function work({ kind, input, seed, port, flag }: Task): Promise<Answered> {
  const asked = new Int32Array(flag);
  let said = 0;
  const hooks = {
    cancelled: () => Atomics.load(asked, 0) === 1,
    progress: (share: number, doing: string) => {
      const now = Date.now();
      if (now - said < BEAT) return;
      said = now;
      port.postMessage({ share, doing } satisfies Progress);
    },
  };
  try {
    return { result: JSON.stringify(await computeAssignment({ kind, input, seed }, hooks)) };
  } catch (thrown) {
    if (!(thrown instanceof EngineError)) throw thrown;
    const { fault, argument, allowed, message } = thrown;
    const found = typeof thrown.found === 'object' ? JSON.stringify(thrown.found) : thrown.found;
    return { misuse: { fault, argument, found, allowed, message } };
  } finally {
    port.close();
  }
}
