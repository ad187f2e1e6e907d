import type { PaperBallot, PaperCheck, SittingSummary } from '../schema/api.ts';
import type { AnswerMessage } from '../schema/ballot.ts';
import { type Context, record } from './context.ts';
import { findSeat, findSitting } from './find.ts';
import { Refusal } from './refusal.ts';
import type { SittingPlace } from './sitting-life.ts';
import { sittingSummary } from './sitting-summary.ts';
import { messageId, takeAnswers } from './take-answers.ts';

/** Paper is one more phone, with a count of its own. */
const PAPER = '0'.repeat(32);

/** Enters a ballot that was filled in on paper: the whole of it or, where a mark cannot be used, nothing. */
export function enterPaper(context: Context, place: SittingPlace, ballot: PaperBallot): SittingSummary {
  const { store } = context;
  const seat = { ...place, assessor: ballot.assessor };
  return store.write(() => {
    findSeat(store, seat);
    const before = store.answers.messages(seat).filter(({ phone }) => phone === PAPER).length;
    const messages = ballot.answers.map((answer, i): AnswerMessage => {
      const count = before + i;
      const id = messageId([place.trial, place.sitting, ballot.assessor, String(count)]);
      return { id, ...answer, phone: PAPER, count };
    });
    refuseAny(takeAnswers(context, seat, messages).refused, messages);
    record(
      context,
      place.trial,
      'entered a paper ballot',
      `of ${JSON.stringify(ballot.assessor)} in ${place.sitting}`,
    );
    return sittingSummary(store, place.trial, findSitting(store, place.trial, place.sitting));
  });
}

/**
 * Holds a second entry of a paper ballot against the first: only where they differ is told, so that nobody reads a
 * score off it. Nothing is stored but that it was done.
 */
export function checkPaper(context: Context, place: SittingPlace, ballot: PaperBallot): PaperCheck {
  const { store } = context;
  const seat = { ...place, assessor: ballot.assessor };
  return store.write(() => {
    findSeat(store, seat);
    const keyOf = ({ code, question }: { code: string; question: string }) =>
      JSON.stringify([code, question]);
    const entered = store.answers.messages(seat).filter(({ phone }) => phone === PAPER);
    const first = new Map(entered.map((one) => [keyOf(one), one.value]));
    const second = new Map(ballot.answers.map((one) => [keyOf(one), one.value]));
    const keys = [...new Set([...first.keys(), ...second.keys()])];
    const differences = keys
      .filter((key) => first.get(key) !== second.get(key))
      .map((key) => {
        const [code, question] = JSON.parse(key) as [string, string];
        return { code, question, first: first.get(key), second: second.get(key) };
      });
    const same = keys.length - differences.length;
    const told = `of ${JSON.stringify(ballot.assessor)} in ${place.sitting}: ${differences.length} differ, ${same} agree`;
    record(context, place.trial, 'entered a paper ballot a second time', told);
    return { same, differences };
  });
}

function refuseAny(
  refused: readonly { id: string; because: string }[],
  messages: readonly AnswerMessage[],
): void {
  if (refused.length === 0) return;
  const faults = refused.map(({ id, because }) => {
    const index = messages.findIndex((message) => message.id === id);
    return { where: `answers[${index}]`, message: `answers[${index}]: ${because}` };
  });
  throw new Refusal('bad-input', faults[0]!.message, faults);
}
