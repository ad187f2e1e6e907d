import { z } from 'zod';
import { Name } from '../brief.ts';
import { Job, NextRequest, PairOfMixes, PlanRequest, PredictRequest, Reading } from '../shapes.ts';
import { maker, type Route, trialPath } from './route.ts';

/** Long computations and their stored results. */
export const JOB_ROUTES = {
  startPlan: {
    method: 'POST',
    path: '/api/trials/:trial/plans',
    roles: maker,
    params: trialPath,
    body: PlanRequest,
    answer: Job,
    says: 'plan mixes in a worker',
  },
  startNext: {
    method: 'POST',
    path: '/api/trials/:trial/next',
    roles: maker,
    params: trialPath,
    body: NextRequest,
    answer: Job,
    says: 'propose the next mixes in a worker',
  },
  startPredict: {
    method: 'POST',
    path: '/api/trials/:trial/predictions',
    roles: maker,
    params: trialPath,
    body: PredictRequest,
    answer: Job,
    says: 'predict given ratios in a worker',
  },
  startReading: {
    method: 'POST',
    path: '/api/trials/:trial/readings',
    roles: maker,
    params: trialPath,
    body: z.object({ setAside: z.array(Name).default([]) }),
    answer: Job,
    says: 'read panel and ratios from all scores so far',
  },
  readReading: {
    method: 'GET',
    path: '/api/trials/:trial/readings/:reading',
    roles: maker,
    params: trialPath.extend({ reading: z.string() }),
    answer: Reading,
    says: 'a stored result',
  },
  readShown: {
    method: 'GET',
    path: '/api/trials/:trial/readings/:reading/shown',
    roles: maker,
    params: trialPath.extend({ reading: z.string() }),
    answer: Reading,
    says: 'a stored result whose pairs of mixes are counted and left out, since they grow with the square of the mixes',
  },
  readPairs: {
    method: 'GET',
    path: '/api/trials/:trial/readings/:reading/pairs/:attribute',
    roles: maker,
    params: trialPath.extend({ reading: z.string(), attribute: z.string() }),
    answer: z.array(PairOfMixes),
    says: 'the differences of all pairs of mixes on one attribute of a reading',
  },
  readJob: {
    method: 'GET',
    path: '/api/jobs/:job',
    roles: maker,
    params: z.object({ job: z.string() }),
    answer: Job,
    says: 'how far a computation is',
  },
  followJob: {
    method: 'GET',
    path: '/api/jobs/:job/events',
    roles: maker,
    params: z.object({ job: z.string() }),
    answer: Job,
    stream: true,
    says: 'a computation as it goes',
  },
  cancelJob: {
    method: 'DELETE',
    path: '/api/jobs/:job',
    roles: maker,
    params: z.object({ job: z.string() }),
    answer: Job,
    says: 'stop a computation',
  },
} as const satisfies Record<string, Route>;
