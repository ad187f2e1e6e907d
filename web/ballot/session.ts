import { computed, signal } from '@preact/signals';
import type { AnswerValue } from '../../trials/schema/ballot.ts';
import {
  finishStep,
  giveAnswer,
  rankNext,
  receiveBallot,
  settle,
  stepBack,
  stepsOf,
  whereNow,
} from './journey.ts';
import { LineToServer, type Outcome } from './line-to-server.ts';
import { answerKey, drawId, type Kept, NOTHING_KEPT, PhoneStore } from './phone-store.ts';
import { preferredLanguage, speak, type Word } from './words.ts';

/** What keeps a ballot from being shown. */
export type Trouble = 'noLink' | 'unknownLink' | null;

export const kept = signal<Kept>(NOTHING_KEPT);
export const trouble = signal<Trouble>(null);
export const reachable = signal(true);
export const durable = signal(true);
export const late = signal(false);
export const refused = signal<{ count: number; because: string } | null>(null);
export const now = signal(Date.now());

export const place = computed(() => whereNow(kept.value, now.value));
export const language = computed(() => kept.value.language ?? preferredLanguage(navigator.languages));

/** A sentence in the taster's language. */
export function say(word: Word, fill: Record<string, string | number> = {}): string {
  return speak(language.value, word, fill);
}

const BATCH = 200;
const SHORTEST_WAIT = 1000;
const LONGEST_WAIT = 15_000;

let store: PhoneStore;
let line: LineToServer;
let sending = false;
let wait = SHORTEST_WAIT;
let retry: ReturnType<typeof setTimeout> | undefined;

/** Begins with the link's token: what the phone keeps first, then what the server says. */
export async function begin(token: string): Promise<void> {
  if (!/^[\w-]{20,100}$/.test(token)) {
    trouble.value = 'noLink';
    return;
  }
  store = new PhoneStore(token);
  line = new LineToServer(token);
  durable.value = store.durable;
  const loaded = store.load();
  keep(loaded.phone ? loaded : { ...loaded, phone: drawId() });
  line.addresses = kept.value.ballot?.addresses ?? [];
  setInterval(tick, 1000);
  addEventListener('online', () => void flush());
  document.addEventListener('visibilitychange', () => void flush());
  await refresh();
}

/** Marks an answer: kept on the phone first, then sent. */
export function answer(code: string, question: string, value: AnswerValue): void {
  keep(giveAnswer(kept.value, code, question, value));
  void flush();
}

/** The ranks given so far in a ranking, by code. */
export function ranksIn(question: string, codes: readonly string[]): Map<string, number> {
  const rank = (code: string) => kept.value.given[answerKey(code, question)];
  return new Map(
    codes.flatMap((code): [string, number][] => {
      const value = rank(code);
      return typeof value === 'number' ? [[code, value]] : [];
    }),
  );
}

/** Puts a cup next in a ranking, or takes it out again. */
export function rank(question: string, codes: readonly string[], code: string): void {
  const changes = rankNext(ranksIn(question, codes), code);
  keep(changes.reduce((next, change) => giveAnswer(next, change.code, question, change.rank), kept.value));
  void flush();
}

/** Leaves a whole ranking blank. */
export function cannotRank(question: string, codes: readonly string[]): void {
  keep(codes.reduce((next, code) => giveAnswer(next, code, question, null), kept.value));
  void flush();
}

/** Tells the maker's live page which cup is now in hand. */
export function takeInHand(step: number): void {
  void line.sendProgress(step + 1);
}

export function nextStep(): void {
  keep(finishStep(kept.value, Date.now()));
  tick();
  const { ballot, finished } = kept.value;
  if (ballot && finished >= stepsOf(ballot).length) void line.sendProgress(finished);
  void flush();
}

export function goBack(): void {
  keep(stepBack(kept.value));
}

/** Accepts what is tasted: kept on the phone first, sent before any answer. */
export function consent(): void {
  keep({ ...kept.value, consented: true, consentWaiting: kept.value.ballot?.consent.version ?? '' });
  void flush();
}

export function chooseLanguage(tag: string): void {
  keep({ ...kept.value, language: tag });
}

async function refresh(): Promise<void> {
  const outcome = await line.fetchBallot();
  note(outcome);
  if (outcome.ok) {
    line.addresses = outcome.value.addresses;
    keep(receiveBallot(kept.value, outcome.value));
    if (outcome.value.state === 'waiting') again(() => void refresh(), 3000);
    void flush();
  } else if (outcome.status === 0) again(() => void refresh());
  else trouble.value = 'unknownLink';
}

function isWaiting(): boolean {
  return kept.value.queue.length > 0 || kept.value.consentWaiting !== null;
}

/** Sends that the taster may taste, if that still waits. False where there was no contact. */
async function sendConsent(): Promise<boolean> {
  const version = kept.value.consentWaiting;
  if (version === null) return true;
  const outcome = await line.giveConsent(version);
  note(outcome);
  if (!outcome.ok && outcome.status === 0) return false;
  keep({ ...kept.value, consentWaiting: null });
  // The words have changed since: they are shown anew.
  if (!outcome.ok && outcome.status === 409) {
    keep({ ...kept.value, consented: false });
    await refresh();
  }
  return true;
}

/** Sends what waits, in order, one batch at a time; what was acknowledged leaves the queue. */
async function flush(): Promise<void> {
  if (sending || !isWaiting()) return;
  sending = true;
  const heard = await sendConsent();
  if (!heard || kept.value.queue.length === 0) {
    sending = false;
    if (!heard) again(() => void flush());
    return;
  }
  const outcome = await line.sendAnswers(kept.value.queue.slice(0, BATCH));
  sending = false;
  note(outcome);
  if (outcome.ok) {
    const { stored, refused: no, late: wasLate } = outcome.value;
    keep(settle(kept.value, [...stored, ...no.map((r) => r.id)]));
    late.value ||= wasLate;
    if (no.length > 0)
      refused.value = { count: (refused.value?.count ?? 0) + no.length, because: no[0]!.because };
    wait = SHORTEST_WAIT;
    if (stored.length + no.length > 0) await flush();
  } else again(() => void flush());
}

function note(outcome: Outcome<unknown>): void {
  reachable.value = outcome.ok || outcome.status !== 0;
}

/** Tries again later, each time a little later, at most every quarter of a minute. */
function again(what: () => void, after = wait): void {
  clearTimeout(retry);
  retry = setTimeout(() => {
    retry = undefined;
    what();
  }, after);
  wait = Math.min(wait * 2, LONGEST_WAIT);
}

function keep(next: Kept): void {
  kept.value = next;
  store.save(next);
  durable.value = store.durable;
}

function tick(): void {
  now.value = Date.now();
  if (isWaiting() && !sending && retry === undefined) void flush();
}
