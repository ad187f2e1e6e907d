import type { AnswerMessage, AnswerReceipt, BallotView } from '../../trials/schema/ballot.ts';
import { isBallot, isReceipt, refusalOf } from './understand.ts';

/** What came of a call: an answer, a refusal in words, or no contact at all. */
export type Outcome<T> =
  | { ok: true; value: T }
  | { ok: false; status: number; message: string }
  | { ok: false; status: 0 };

type Check<T> = (value: unknown) => value is T;
const isAnything = (_value: unknown): _value is unknown => true;

/**
 * The line to the workbench. The link's token travels in a header only; when the address the page came from does
 * not answer, the other addresses the workbench gave are tried in turn.
 */
export class LineToServer {
  readonly #token: string;
  addresses: readonly string[] = [];

  constructor(token: string) {
    this.#token = token;
  }

  fetchBallot(): Promise<Outcome<BallotView>> {
    return this.#call('GET', '/api/ballot', undefined, isBallot);
  }

  sendAnswers(answers: readonly AnswerMessage[]): Promise<Outcome<AnswerReceipt>> {
    return this.#call('POST', '/api/ballot/answers', { answers }, isReceipt);
  }

  giveConsent(version: string): Promise<Outcome<unknown>> {
    return this.#call('POST', '/api/ballot/consent', { version, mayTaste: true }, isAnything);
  }

  sendProgress(position: number): Promise<Outcome<unknown>> {
    return this.#call('PUT', '/api/ballot/progress', { position }, isAnything);
  }

  async #call<T>(method: string, path: string, body: unknown, answer: Check<T>): Promise<Outcome<T>> {
    for (const base of ['', ...this.addresses.filter((a) => a !== location.origin)]) {
      const outcome = await this.#try(base + path, method, body, answer);
      if (outcome.ok || outcome.status !== 0) return outcome;
    }
    return { ok: false, status: 0 };
  }

  async #try<T>(address: string, method: string, body: unknown, answer: Check<T>): Promise<Outcome<T>> {
    const stop = new AbortController();
    const timer = setTimeout(() => stop.abort(), 15_000);
    try {
      const response = await fetch(address, {
        method,
        headers: { 'content-type': 'application/json', 'x-dropwise-ballot': this.#token },
        signal: stop.signal,
        cache: 'no-store',
        ...(body === undefined ? {} : { body: JSON.stringify(body) }),
      });
      const text: unknown = await response.json().catch(() => null);
      if (response.status >= 500 || response.status === 429) return { ok: false, status: 0 };
      if (!response.ok) return { ok: false, status: response.status, message: refusalOf(text) };
      return answer(text) ? { ok: true, value: text } : { ok: false, status: 0 };
    } catch {
      return { ok: false, status: 0 };
    } finally {
      clearTimeout(timer);
    }
  }
}
