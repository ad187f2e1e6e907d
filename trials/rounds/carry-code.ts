import { messageIdOf, readCode } from '../schema/waiting-code.ts';
import type { SeatKey, SittingRecord } from '../store/records.ts';
import type { Store } from '../store/store.ts';
import { type Context, record } from './context.ts';
import { badInput } from './refusal.ts';
import { takeAnswers } from './take-answers.ts';

/** What came of a code that was read in. */
export interface CarriedAnswers {
  sitting: string;
  assessor: string;
  part: number;
  parts: number;
  stored: number;
  refused: { code: string; because: string }[];
  late: boolean;
}

/**
 * Takes answers that a phone could not send and showed as a code. They bear the ids that the phone gave them, so that
 * nothing counts twice should the phone send them after all.
 */
export function takeCarried(context: Context, trial: string, text: string): CarriedAnswers {
  const { store } = context;
  return store.write(() => {
    const read = readCode(
      text,
      (seat) => seatAt(store, trial, seat)?.sitting.questions.map(({ id }) => id) ?? [],
    );
    if (typeof read === 'string') throw badInput('text', shortened(text), read);
    const seat = seatAt(store, trial, read.seat);
    if (seat === null) throw badInput('text', shortened(text), 'a code of a sitting of this trial');
    const messages = read.answers.map((answer) => ({
      ...answer,
      id: messageIdOf(read.phone, answer.count),
      phone: read.phone,
    }));
    const { stored, refused, late } = takeAnswers(context, seat.key, messages);
    record(
      context,
      trial,
      'read in a code',
      `${stored.length} answers of ${JSON.stringify(seat.key.assessor)}`,
    );
    return {
      sitting: seat.key.sitting,
      assessor: seat.key.assessor,
      part: read.part,
      parts: read.parts,
      stored: stored.length,
      refused: refused.map(({ id, because }) => ({
        code: messages.find((message) => message.id === id)!.code,
        because,
      })),
      late,
    };
  });
}

/** The seat that `sitting.place` names. */
function seatAt(store: Store, trial: string, seat: string): { key: SeatKey; sitting: SittingRecord } | null {
  const [name = '', place = ''] = seat.split('.');
  const sitting = store.sittings.find(trial, name);
  const found = store.sittings.seats(trial, name).find((one) => String(one.place) === place);
  return sitting && found ? { key: { trial, sitting: name, assessor: found.assessor }, sitting } : null;
}

function shortened(text: string): string {
  return text.length > 40 ? `${text.slice(0, 40)}…` : text;
}
