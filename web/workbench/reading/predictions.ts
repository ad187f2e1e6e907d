import type { PredictResult } from '../results.ts';
import { ask, follow, Refusal } from '../server.ts';

type Rows = Parameters<typeof ask<'startPredict'>>[2] & object;

const known = new Map<string, Promise<PredictResult>>();

/** Predictions for given ratios, asked for once; `reading` says on which scores they rest. */
export function predictions(trial: string, reading: string, rows: Rows['rows']): Promise<PredictResult> {
  const key = JSON.stringify([trial, reading, rows]);
  const before = known.get(key);
  if (before) return before;
  const asked = askFor(trial, rows);
  known.set(key, asked);
  if (known.size > 60) known.delete(known.keys().next().value!);
  asked.catch(() => known.delete(key));
  return asked;
}

async function askFor(trial: string, rows: Rows['rows']): Promise<PredictResult> {
  const started = await ask('startPredict', { trial }, { rows });
  const job = started.state === 'running' ? await ended(started.job) : started;
  if (job.error !== null) throw new Refusal(job.error);
  if (job.reading === null) throw new Error('the prediction was stopped');
  return (await ask('readReading', { trial, reading: job.reading })).result as PredictResult;
}

function ended(job: string) {
  return new Promise<Awaited<ReturnType<typeof ask<'readJob'>>>>((resolve, reject) => {
    const hear = (told: Awaited<ReturnType<typeof ask<'readJob'>>>) => {
      if (told.state === 'running') return;
      stop();
      resolve(told);
    };
    const stop = follow('followJob', { job }, hear, () => {
      ask('readJob', { job }).then(hear, (thrown) => {
        stop();
        reject(thrown);
      });
    });
  });
}
