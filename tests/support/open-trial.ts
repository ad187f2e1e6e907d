import type { Context } from '../../trials/rounds/context.ts';
import { openSitting } from '../../trials/rounds/sitting-life.ts';
import { messageId } from '../../trials/rounds/take-answers.ts';
import type { AnswerMessage } from '../../trials/schema/ballot.ts';
import { drawnTrial } from './small-trial.ts';

/** A small trial whose sitting is open, with Ann's seat and the codes of her cups. */
export function openTrial(context: Context, given = {}) {
  const drawn = drawnTrial(context, given);
  const place = { trial: drawn.trial, sitting: drawn.sitting };
  openSitting(context, place);
  const seat = { ...place, assessor: 'Ann' };
  const codes = context.store.sittings.cupsOf(seat).map(({ code }) => code);
  return { ...drawn, place, seat, codes };
}

/** What a phone sends of one cup: 50 for its bitterness, unless told otherwise. */
export const answer = (code: string, over: Partial<AnswerMessage> = {}): AnswerMessage => ({
  id: messageId([code, JSON.stringify(over)]),
  code,
  question: 'bitter',
  value: 50,
  phone: messageId(['phone']),
  count: 1,
  ...over,
});
