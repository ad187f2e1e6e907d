import { Brief } from '../brief.ts';
import { Judgement } from '../judgement.ts';
import { ProofRequest, RoundView } from '../shapes.ts';
import { maker, type Route, trialPath } from './route.ts';

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
  startProof: {
    method: 'POST',
    path: '/api/trials/:trial/proofs',
    roles: maker,
    params: trialPath,
    body: ProofRequest,
    answer: RoundView,
    says: 'a round that proves the formula: weighed afresh, to be poured blind',
  },
} as const satisfies Record<string, Route>;
