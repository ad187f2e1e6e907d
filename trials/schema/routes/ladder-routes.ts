import { z } from 'zod';
import { LadderAnswers, LadderKept, LadderRequest, LadderView } from '../ladder-shapes.ts';
import { maker, type Route, trialPath } from './route.ts';

const ladderPath = trialPath.extend({ ladder: z.coerce.number().int().min(1) });

/** Ladders of doses. They hold which cup is the odd one: nobody but the maker reaches them. */
export const LADDER_ROUTES = {
  listLadders: {
    method: 'GET',
    path: '/api/trials/:trial/ladders',
    roles: maker,
    params: trialPath,
    answer: z.array(LadderView),
    says: 'all ladders of doses, put away or not, with their answers',
  },
  drawLadder: {
    method: 'POST',
    path: '/api/trials/:trial/ladders',
    roles: maker,
    params: trialPath,
    body: LadderRequest,
    answer: LadderView,
    says: 'draw the cups of a ladder of doses: three a rung for each taster, one of them odd',
  },
  takeOverLadder: {
    method: 'POST',
    path: '/api/trials/:trial/ladders/kept',
    roles: maker,
    params: trialPath,
    body: LadderKept,
    answer: LadderView,
    says: 'take in a ladder that a browser kept, once: the same cups again change nothing',
  },
  answerLadder: {
    method: 'PUT',
    path: '/api/trials/:trial/ladders/:ladder/answers',
    roles: maker,
    params: ladderPath,
    body: LadderAnswers,
    answer: LadderView,
    says: 'which cup was called the odd one; all of it is kept or nothing',
  },
  putLadderAway: {
    method: 'PUT',
    path: '/api/trials/:trial/ladders/:ladder/away',
    roles: maker,
    params: ladderPath,
    body: z.object({ away: z.boolean() }),
    answer: LadderView,
    says: 'put a ladder away, or bring it back; nothing of it is deleted',
  },
} as const satisfies Record<string, Route>;
