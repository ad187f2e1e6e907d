import { Brief } from '../brief.ts';
import { Judgement } from '../judgement.ts';
import { maker, type Route } from './route.ts';

/** The bench beside a trial's rounds: limits, the shelf, the card. */
export const BENCH_ROUTES = {
  judgeBrief: {
    method: 'POST',
    path: '/api/judgements',
    roles: maker,
    body: Brief,
    answer: Judgement,
    says: 'what a brief allows at the most, held against limits and caps',
  },
} as const satisfies Record<string, Route>;
