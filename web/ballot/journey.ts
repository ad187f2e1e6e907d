import type { AnswerMessage, AnswerValue, BallotView } from '../../trials/schema/ballot.ts';
import { messageIdOf } from '../../trials/schema/waiting-code.ts';
import { answerKey, type Kept } from './phone-store.ts';

/** Where the taster stands: named functions from what is kept to what is kept next, without page or network. */
export type Place =
  | { at: 'consent' }
  | { at: 'rest'; step: number; seconds: number }
  | { at: 'cup'; step: number }
  | { at: 'ranking'; step: number }
  | { at: 'end' };

type Question = BallotView['questions'][number];

/** What is answered at once: the cups of a part with their questions, or all cups with one ranking at the end. */
export interface Step {
  kind: 'cup' | 'ranking';
  cups: BallotView['cups'];
  questions: Question[];
  restSeconds: number;
}

/** The steps of a ballot in order. */
export function stepsOf(ballot: BallotView): Step[] {
  const asked = ballot.questions.filter(({ form }) => form !== 'ranking');
  const parts = [...new Set(ballot.cups.map(({ part }) => part))];
  const steps = parts.map((part): Step => {
    const cups = ballot.cups.filter((cup) => cup.part === part);
    return { kind: 'cup', cups, questions: asked, restSeconds: cups[0]!.restSeconds };
  });
  const ranked = ballot.cups.filter(({ warmup }) => !warmup);
  const rankings = ballot.questions
    .filter(({ form }) => form === 'ranking')
    .map((question): Step => ({ kind: 'ranking', cups: ranked, questions: [question], restSeconds: 0 }));
  return [...steps, ...rankings];
}

/** Which codes a step's answers are given under: a set under its first cup, a ranking under every cup. */
function codesOf({ kind, cups }: Step): string[] {
  return (kind === 'ranking' ? cups : cups.slice(0, 1)).map(({ code }) => code);
}

/**
 * A given answer, its message put at the end of the queue; a message for the same mark that still waits is
 * replaced, and the same answer given twice is one. */
export function giveAnswer(kept: Kept, code: string, question: string, value: AnswerValue): Kept {
  if (kept.given[answerKey(code, question)] === value) return kept;
  const { phone } = kept;
  const count = kept.count + 1;
  const message: AnswerMessage = { id: messageIdOf(phone, count), code, question, value, phone, count };
  const others = kept.queue.filter((m) => m.code !== code || m.question !== question);
  return {
    ...kept,
    queue: [...others, message],
    given: { ...kept.given, [answerKey(code, question)]: value },
    count,
  };
}

/** Messages that were stored or can never be, taken off the queue. */
export function settle(kept: Kept, ids: readonly string[]): Kept {
  const gone = new Set(ids);
  return { ...kept, queue: kept.queue.filter((m) => !gone.has(m.id)) };
}

/**
 * A freshly fetched ballot joined with what the phone keeps: answers given on this phone win over the server's
 * where they still wait; a phone that takes over a link goes on after the last step that is answered in full.
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

/** The current step left behind: the rest before the next one begins now, unless that was answered before. */
export function finishStep(kept: Kept, now: number): Kept {
  const finished = kept.finished + 1;
  const next = kept.ballot ? stepsOf(kept.ballot)[finished] : undefined;
  const rest = next && unanswered(kept, next) > 0 ? next.restSeconds : 0;
  return { ...kept, finished, restUntil: now + rest * 1000 };
}

/** The step before opened again, where the maker allows it. */
export function stepBack(kept: Kept): Kept {
  if (!kept.ballot?.goBack || kept.finished === 0) return kept;
  return { ...kept, finished: kept.finished - 1, restUntil: 0 };
}

/** Where the taster is, given the time by the phone's clock; a clock set back never lengthens a rest. */
export function whereNow(kept: Kept, now: number): Place {
  const steps = kept.ballot ? stepsOf(kept.ballot) : [];
  if (!kept.consented) return { at: 'consent' };
  const step = steps[kept.finished];
  if (!step) return { at: 'end' };
  const left = Math.min(kept.restUntil - now, step.restSeconds * 1000);
  return left > 0
    ? { at: 'rest', step: kept.finished, seconds: Math.ceil(left / 1000) }
    : { at: step.kind, step: kept.finished };
}

/** Marks of a step that are neither made nor left blank on purpose. */
export function unanswered(kept: Kept, step: Step): number {
  const open = (code: string) =>
    step.questions.filter(({ id }) => !Object.hasOwn(kept.given, answerKey(code, id))).length;
  return codesOf(step).reduce((sum, code) => sum + open(code), 0);
}

function fullyAnswered(kept: Kept, ballot: BallotView): number {
  const steps = stepsOf(ballot);
  let step = 0;
  while (step < steps.length && unanswered(kept, steps[step]!) === 0) step++;
  return step;
}

/**
 * A cup put next in a ranking, or taken out of it: the cups behind it move up. Returns the new rank of every cup
 * whose rank changed, null = none.
 */
export function rankNext(
  ranks: ReadonlyMap<string, number>,
  code: string,
): { code: string; rank: number | null }[] {
  const old = ranks.get(code);
  if (old === undefined) return [{ code, rank: ranks.size + 1 }];
  const behind = [...ranks].filter(([, rank]) => rank > old);
  return [{ code, rank: null }, ...behind.map(([one, rank]) => ({ code: one, rank: rank - 1 }))];
}
