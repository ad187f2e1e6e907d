import type { Request } from 'express';
import { draftCard, findCard, publishCard } from '../../../trials/rounds/cards.ts';
import { findTrial } from '../../../trials/rounds/find.ts';
import type { Card } from '../../../trials/schema/api.ts';
import type { Handlers } from '../handler.ts';
import { contextFor, type House } from '../house.ts';
import { cardLink } from '../links.ts';

type Names = 'draftCard' | 'publishCard' | 'listCards' | 'readCard';

/** Formula cards. */
export function cardHandlers(house: House): Pick<Handlers, Names> {
  const context = (call: { caller: { role: string } }) => contextFor(house, call.caller.role);
  const stored = (request: Request, trial: string, card: Card) => ({
    card,
    ...cardLink(house, request, trial, card.version),
  });
  return {
    draftCard: (call) => draftCard(context(call), call.params.trial, call.body),
    publishCard: (call) => {
      const { trial } = call.params;
      return stored(call.request, trial, publishCard(context(call), trial, call.body));
    },
    listCards: ({ params }) => {
      findTrial(house.store, params.trial);
      return house.store.cards.list(params.trial);
    },
    readCard: (call) => {
      const { trial, version } = call.params;
      return stored(call.request, trial, findCard(context(call), trial, version));
    },
  };
}
