import { useEffect, useRef, useState } from 'preact/hooks';
import type { Job, Reading } from '../../../trials/schema/api.ts';
import { type Loaded, troubleOf } from '../loaded.ts';
import { ask, follow, Refusal } from '../server.ts';
import { type FaultWords, intoSight, Trouble } from './await.tsx';

/** A computation that the page started. */
export interface RunningJob {
  job: Job | null;
  trouble: Loaded<never> | null;
  /** Starts one, dropping any earlier; resolves with its stored reading, or null where it was stopped or failed. */
  run: (trial: string, start: () => Promise<Job>) => Promise<Reading | null>;
  cancel: () => void;
}

/** Runs computations one at a time: progress as it goes, cancel, and what came of it. */
export function useJob(): RunningJob {
  const [job, setJob] = useState<Job | null>(null);
  const [trouble, setTrouble] = useState<Loaded<never> | null>(null);
  const stop = useRef<() => void>(() => {});
  const here = useRef(true);
  useEffect(
    () => () => {
      here.current = false;
      stop.current();
    },
    [],
  );

  const run: RunningJob['run'] = async (trial, start) => {
    stop.current();
    setTrouble(null);
    try {
      const done = await followToEnd(await start(), setJob, stop);
      setJob(null);
      if (done.error !== null) throw new Refusal(done.error);
      if (done.state !== 'done' || done.reading === null) return null;
      const reading = await ask('readShown', { trial, reading: done.reading });
      // Whoever has left the page meanwhile is not called back to it.
      return here.current ? reading : null;
    } catch (thrown) {
      setJob(null);
      setTrouble(troubleOf(thrown));
      return null;
    }
  };
  const cancel = () => {
    if (job !== null) ask('cancelJob', { job: job.job }).catch((thrown) => setTrouble(troubleOf(thrown)));
  };
  return { job, trouble, run, cancel };
}

function followToEnd(started: Job, told: (job: Job) => void, stop: { current: () => void }): Promise<Job> {
  told(started);
  if (started.state !== 'running') return Promise.resolve(started);
  return new Promise((resolve, reject) => {
    const hear = (job: Job) => {
      told(job);
      if (job.state === 'running') return;
      stop.current();
      resolve(job);
    };
    const lookUp = () => ask('readJob', { job: started.job }).then(hear, reject);
    stop.current = follow('followJob', { job: started.job }, hear, lookUp);
  });
}

/** How far a computation is, what it is doing, and a way to stop it. */
export function JobProgress({
  of,
  what,
  words,
}: {
  of: RunningJob;
  what: string;
  /** Tells a refusal in the words of the page's form. */
  words?: FaultWords;
}) {
  const { job, trouble, cancel } = of;
  if (job === null) return <Trouble of={trouble} words={words} />;
  const percent = Math.round(100 * job.share);
  return (
    <div class="progress" ref={intoSight}>
      <div class="doing">
        <span role="status">
          {what}: {job.doing || 'starting'}
        </span>
        <button type="button" onClick={cancel}>
          Stop
        </button>
      </div>
      <div
        class="tube"
        role="progressbar"
        aria-label={what}
        aria-valuenow={percent}
        aria-valuemin={0}
        aria-valuemax={100}
      >
        <span ref={(bar) => bar?.style.setProperty('--share', `${percent}%`)} />
      </div>
    </div>
  );
}
