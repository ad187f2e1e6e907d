import type { AnswerMessage, AnswerValue, BallotView } from '../../trials/schema/ballot.ts';
import { isBallot } from './understand.ts';

/** What this phone keeps for one link, so that closing, reloading or losing the network costs nothing. */
export interface Kept {
  /** The ballot as last fetched: enough to go on without the network. */
  ballot: BallotView | null;
  /** Messages not yet acknowledged, oldest first. */
  queue: AnswerMessage[];
  /** Every answer given on this phone, by cup code and question. */
  given: Record<string, AnswerValue>;
  /** Drawn once for this phone and link. */
  phone: string;
  /** Counts up with each answer on this phone. */
  count: number;
  /** Steps (cups, sets, rankings) finished on this phone. */
  finished: number;
  /** When the rest before the next cup ends, by this phone's clock; only its distance from now is used. */
  restUntil: number;
  consented: boolean;
  /** The version of the words that was accepted and has not yet reached the workbench. */
  consentWaiting: string | null;
  language: string | null;
}

export const NOTHING_KEPT: Kept = {
  ballot: null,
  queue: [],
  given: {},
  phone: '',
  count: 0,
  finished: 0,
  restUntil: 0,
  consented: false,
  consentWaiting: null,
  language: null,
};

/** The key under which an answer is remembered. */
export function answerKey(code: string, question: string): string {
  return `${code} ${question}`;
}

/**
 * Keeps the state of one link in the browser's own storage. Each link has a place of its own, so one phone
 * handed from taster to taster keeps their answers apart. Where the browser refuses, `durable` is false.
 */
export class PhoneStore {
  readonly #place: string;
  durable: boolean;

  constructor(token: string) {
    this.#place = `dropwise ballot ${token}`;
    this.durable = canKeep();
  }

  load(): Kept {
    try {
      const text = localStorage.getItem(this.#place);
      return text ? readable({ ...NOTHING_KEPT, ...(JSON.parse(text) as Partial<Kept>) }) : NOTHING_KEPT;
    } catch {
      return NOTHING_KEPT;
    }
  }

  save(kept: Kept): void {
    if (!this.durable) return;
    try {
      localStorage.setItem(this.#place, JSON.stringify(kept));
    } catch {
      this.durable = false;
    }
  }
}

/** A ballot kept by an earlier version of this page is fetched anew; what was answered stays. */
function readable(kept: Kept): Kept {
  return isBallot(kept.ballot) ? kept : { ...kept, ballot: null };
}

function canKeep(): boolean {
  try {
    localStorage.setItem('dropwise', 'kept');
    localStorage.removeItem('dropwise');
    return true;
  } catch {
    return false;
  }
}

/** 32 random hexadecimal digits; plain http offers no other source of identifiers. */
export function drawId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (b) => b.toString(16).padStart(2, '0')).join('');
}
