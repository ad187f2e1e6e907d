import { readPairs, readWithoutPairs } from '../../../trials/rounds/reading-on-screen.ts';
import {
  type Assignment,
  assignNext,
  assignPlan,
  assignPrediction,
  assignReading,
  readReading,
  storeReading,
} from '../../../trials/rounds/readings.ts';
import type { Job } from '../../../trials/schema/api.ts';
import type { Subscribe } from '../event-stream.ts';
import type { Handlers } from '../handler.ts';
import { contextFor, type House } from '../house.ts';

type Names =
  | 'startPlan'
  | 'startNext'
  | 'startPredict'
  | 'startReading'
  | 'readReading'
  | 'readShown'
  | 'readPairs'
  | 'readJob'
  | 'followJob'
  | 'cancelJob';

/** Long computations and their stored results. */
export function jobHandlers(house: House): Pick<Handlers, Names> {
  const context = contextFor(house, 'maker');
  const start = (assignment: Assignment): Job =>
    house.jobs.start(assignment, (result) => storeReading(context, assignment, result));
  return {
    startPlan: ({ params, body }) => start(assignPlan(context, params.trial, body)),
    startNext: ({ params, body }) => start(assignNext(context, params.trial, body)),
    startPredict: ({ params, body }) => start(assignPrediction(context, params.trial, body)),
    startReading: ({ params, body }) => start(assignReading(context, params.trial, body.setAside)),
    readReading: ({ params }) => readReading(context, params.trial, params.reading),
    readShown: ({ params }) => readWithoutPairs(context, params.trial, params.reading),
    readPairs: ({ params }) => readPairs(context, params.trial, params.reading, params.attribute),
    readJob: ({ params }) => house.jobs.find(params.job),
    followJob: ({ params }) => followJob(house, params.job),
    cancelJob: ({ params }) => house.jobs.cancel(params.job),
  };
}

function followJob(house: House, job: string): Subscribe<Job> {
  house.jobs.find(job);
  return (send, end) => {
    const hear = (now: Job) => {
      send(now);
      if (now.state !== 'running') end();
    };
    const stop = house.jobs.follow(job, hear);
    hear(house.jobs.find(job));
    return stop;
  };
}
