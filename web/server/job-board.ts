import { randomUUID } from 'node:crypto';
import type { Assignment } from '../../trials/rounds/readings.ts';
import type { Job } from '../../trials/schema/api.ts';
import { ApiError, toApiError } from './api-error.ts';
import type { WorkerPool } from './worker-pool.ts';

/** Computations that run, and those that ended not long ago. */
export interface JobBoard {
  start(assignment: Assignment, keep: (result: unknown) => string): Job;
  find(job: string): Job;
  cancel(job: string): Job;
  /** Hears every change until the job has ended. Returns what stops the hearing. */
  follow(job: string, hear: (job: Job) => void): () => void;
  close(): Promise<void>;
}

interface Entry {
  job: Job;
  listeners: Set<(job: Job) => void>;
  stop: () => void;
}

/** Ended jobs that are remembered; their results are kept as readings for good. */
const REMEMBERED = 200;
/** Jobs that may wait or run at once. */
const MOST = 20;

/** A board whose jobs run in a pool of worker threads. */
export function jobBoard(pool: WorkerPool): JobBoard {
  const entries = new Map<string, Entry>();
  const find = (job: string): Entry => {
    const entry = entries.get(job);
    if (!entry)
      throw new ApiError('not-found', 'this computation is not known: it ended long ago or never ran');
    return entry;
  };
  const change = (entry: Entry, to: Partial<Job>) => {
    if (entry.job.state !== 'running') return;
    entry.job = { ...entry.job, ...to };
    for (const hear of entry.listeners) hear(entry.job);
  };
  return {
    start: (assignment, keep) => {
      const running = [...entries.values()].filter(({ job }) => job.state === 'running').length;
      if (running >= MOST)
        throw new ApiError('too-many', `${running} computations are running: wait for one to end`);
      forgetOldest(entries);
      const entry: Entry = { job: newJob(assignment), listeners: new Set(), stop: () => undefined };
      entries.set(entry.job.job, entry);
      const run = pool.run(assignment, (share, doing) => change(entry, { share, doing }));
      entry.stop = run.cancel;
      run.result
        .then((result) => change(entry, { state: 'done', share: 1, doing: 'done', reading: keep(result) }))
        .catch((thrown: unknown) => change(entry, endOf(thrown, run.wasCancelled())));
      return entry.job;
    },
    find: (job) => find(job).job,
    cancel: (job) => {
      const entry = find(job);
      if (entry.job.state === 'running') entry.stop();
      return entry.job;
    },
    follow: (job, hear) => {
      const { listeners } = find(job);
      listeners.add(hear);
      return () => listeners.delete(hear);
    },
    close: () => pool.close(),
  };
}

function newJob({ kind }: Assignment): Job {
  return {
    job: randomUUID(),
    kind,
    state: 'running',
    share: 0,
    doing: 'starting',
    reading: null,
    error: null,
  };
}

function endOf(thrown: unknown, cancelled: boolean): Partial<Job> {
  if (cancelled) return { state: 'cancelled', doing: 'stopped' };
  return { state: 'failed', doing: 'failed', error: toApiError(thrown).toAnswer().error };
}

function forgetOldest(entries: Map<string, Entry>): void {
  for (const [id, { job }] of entries) {
    if (entries.size < REMEMBERED) return;
    if (job.state !== 'running') entries.delete(id);
  }
}
