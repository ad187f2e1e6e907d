import { z } from 'zod';
import { Card, CardRequest, StoredCard } from '../card.ts';
import { maker, type Route, trialPath } from './route.ts';

/** Formula cards. */
export const CARD_ROUTES = {
  draftCard: {
    method: 'POST',
    path: '/api/trials/:trial/card-drafts',
    roles: maker,
    params: trialPath,
    body: CardRequest,
    answer: Card,
    says: 'the card as it would be published',
  },
  publishCard: {
    method: 'POST',
    path: '/api/trials/:trial/cards',
    roles: maker,
    params: trialPath,
    body: CardRequest,
    answer: StoredCard,
    says: 'publish the next version of the card',
  },
  listCards: {
    method: 'GET',
    path: '/api/trials/:trial/cards',
    roles: maker,
    params: trialPath,
    answer: z.array(Card),
    says: 'every version of the card, oldest first',
  },
  readCard: {
    method: 'GET',
    path: '/api/trials/:trial/cards/:version',
    roles: maker,
    params: trialPath.extend({ version: z.coerce.number().int().min(1) }),
    answer: StoredCard,
    says: 'one version, with a code that opens it',
  },
} as const satisfies Record<string, Route>;
