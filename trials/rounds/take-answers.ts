import { createHash } from 'node:crypto';
import type { AnswerMessage, AnswerReceipt } from '../schema/ballot.ts';
import type { AnswerRecord, SeatKey } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import { type Context, timeOf } from './context.ts';
import { findSitting } from './find.ts';
import { whyUnfit } from './fit-answer.ts';
import { conflict } from './refusal.ts';

/**
 * Takes a taster's answers in one transaction; the receipt exists only once they are on disk. A message that is
 * there already is acknowledged again and changes nothing. What can never be stored is named with the reason, so
 * that the phone stops sending it. Once the key is open, answers are kept and marked late.
 * @throws Refusal `conflict` before the sitting was opened: the phone keeps them and tries again
 */
export function takeAnswers(
  context: Context,
  seat: SeatKey,
  messages: readonly AnswerMessage[],
): AnswerReceipt {
  const { store } = context;
  return store.write(() => {
    const sitting = findSitting(store, seat.trial, seat.sitting);
    if (sitting.state === 'poured') throw conflict('the tasting has not begun');
    const tray = { questions: sitting.questions, cups: store.sittings.cupsOf(seat) };
    const late = sitting.key === 'opened';
    const receipt: AnswerReceipt = { stored: [], refused: [], late };
    for (const message of messages) {
      const because = whyUnfit(tray, message) ?? keep(store, seat, message, { late, at: timeOf(context) });
      if (because === null) receipt.stored.push(message.id);
      else receipt.refused.push({ id: message.id, because });
    }
    return receipt;
  });
}

/** Stores one message; a reason where its id is already another answer's. */
function keep(
  store: Store,
  seat: SeatKey,
  message: AnswerMessage,
  { late, at }: { late: boolean; at: string },
): string | null {
  const there = store.answers.find(seat, message.id);
  if (there) return isSame(there, message) ? null : 'another answer came under this id';
  const { id, code, question, value, phone, count } = message;
  store.answers.add(seat, { message: id, code, question, value, phone, count, late, received: at });
  return null;
}

function isSame(there: AnswerRecord, { code, question, value, phone, count }: AnswerMessage): boolean {
  return (
    there.code === code &&
    there.question === question &&
    there.value === value &&
    there.phone === phone &&
    there.count === count
  );
}

/** An id as a phone would draw it, fixed by what it stands for. */
export function messageId(parts: readonly string[]): string {
  return createHash('sha256').update(JSON.stringify(parts)).digest('hex').slice(0, 32);
}
