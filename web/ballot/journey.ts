import type { AnswerMessage, BallotView } from '../../trials/schema/ballot.ts';
import { answerKey, type Kept } from './phone-store.ts';

/** Where the taster stands: named functions from what is kept to what is kept next, without page or network. */
export type Place =
  | { at: 'consent' }
  | { at: 'rest'; cup: number; seconds: number }
  | { at: 'cup'; cup: number }
  | { at: 'end' };

/**
 * A given answer, its message put at the end of the queue; a message for the same mark that still waits is
 * replaced, and the same answer given twice is one. */
export function giveAnswer(
  kept: Kept,
  code: string,
  question: string,
  value: number | null,
  id: string,
): Kept {
  if (kept.given[answerKey(code, question)] === value) return kept;
  const message: AnswerMessage = { id, code, question, value, phone: kept.phone, count: kept.count + 1 };
  const others = kept.queue.filter((m) => m.code !== code || m.question !== question);
  return {
    ...kept,
    queue: [...others, message],
    given: { ...kept.given, [answerKey(code, question)]: value },
    count: kept.count + 1,
  };
}

/** Messages that were stored or can never be, taken off the queue. */
export function settle(kept: Kept, ids: readonly string[]): Kept {
  const gone = new Set(ids);
  return { ...kept, queue: kept.queue.filter((m) => !gone.has(m.id)) };
}

/**
 * A freshly fetched ballot joined with what the phone keeps: answers given on this phone win over the server's
 * where they still wait; a phone that takes over a link goes on after the last cup that is answered in full.
 */
export function receiveBallot(kept: Kept, ballot: BallotView): Kept {
  const waiting = new Set(kept.queue.map((m) => answerKey(m.code, m.question)));
  const given = { ...kept.given };
  for (const a of ballot.answers) {
    const key = answerKey(a.code, a.question);
    if (!waiting.has(key)) given[key] = a.value;
  }
  const joined = { ...kept, ballot, given, consented: kept.consented || ballot.consent.given };
  return kept.ballot
    ? joined
    : { ...joined, finished: Math.max(kept.finished, fullyAnswered(joined, ballot)) };
}

/** The current cup left behind: the rest before the next one begins now. */
export function finishCup(kept: Kept, now: number): Kept {
  const finished = kept.finished + 1;
  const next = kept.ballot?.cups[finished];
  return { ...kept, finished, restUntil: next ? now + next.restSeconds * 1000 : 0 };
}

/** Where the taster is, given the time by the phone's clock; a clock set back never lengthens a rest. */
export function whereNow(kept: Kept, now: number): Place {
  const cups = kept.ballot?.cups ?? [];
  if (!kept.consented) return { at: 'consent' };
  if (kept.finished >= cups.length) return { at: 'end' };
  const cup = cups[kept.finished]!;
  const left = Math.min(kept.restUntil - now, cup.restSeconds * 1000);
  return left > 0
    ? { at: 'rest', cup: kept.finished, seconds: Math.ceil(left / 1000) }
    : { at: 'cup', cup: kept.finished };
}

/** Questions of a cup that are neither marked nor left blank on purpose. */
export function unanswered(kept: Kept, ballot: BallotView, cup: number): number {
  const code = ballot.cups[cup]?.code ?? '';
  return ballot.questions.filter((q) => !Object.hasOwn(kept.given, answerKey(code, q.id))).length;
}

function fullyAnswered(kept: Kept, ballot: BallotView): number {
  let cup = 0;
  while (cup < ballot.cups.length && unanswered(kept, ballot, cup) === 0) cup++;
  return cup;
}
