import { AnswerBatch, AnswerReceipt, BallotView, ConsentMessage, ProgressMessage } from '../ballot.ts';
import { ok, type Route, taster } from './route.ts';

/** What a taster's phone may ask. */
export const BALLOT_ROUTES = {
  readBallot: {
    method: 'GET',
    path: '/api/ballot',
    roles: taster,
    answer: BallotView,
    says: 'the own ballot',
  },
  giveConsent: {
    method: 'POST',
    path: '/api/ballot/consent',
    roles: taster,
    body: ConsentMessage,
    answer: ok,
    says: 'I may taste',
  },
  sendAnswers: {
    method: 'POST',
    path: '/api/ballot/answers',
    roles: taster,
    body: AnswerBatch,
    answer: AnswerReceipt,
    says: 'answers, each stored once',
  },
  sendProgress: {
    method: 'PUT',
    path: '/api/ballot/progress',
    roles: taster,
    body: ProgressMessage,
    answer: ok,
    says: 'the cup now in hand',
  },
} as const satisfies Record<string, Route>;
