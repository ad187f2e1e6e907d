import type { Fault } from './api.ts';

/** How many faults of one file are told one by one; the rest are counted. */
const MOST_TOLD = 20;

/** A value or what was checked, with what to tell about it. */
export interface Refused {
  faults: Fault[];
}

/** The input cannot be used: one fault a place, each a line of words. Nothing has been changed or written. */
export class InputFaults extends Error {
  readonly faults: readonly Fault[];

  constructor(faults: readonly Fault[]) {
    super(faults.map((fault) => fault.message).join('\n'));
    this.name = 'InputFaults';
    this.faults = faults;
  }
}

/**
 * One fault: `where` is a place in words (`scores.csv, line 7, column bitter`), `found` the offending value as it
 * stands there, `allowed` what would have been accepted.
 */
export function makeFault(where: string, found: unknown, allowed: string): Fault {
  return describeFault(where, showValue(found), allowed);
}

/** A fault whose finding is told in words of its own (`UTF-16`) rather than shown as a value. */
export function describeFault(where: string, found: string, allowed: string): Fault {
  const place = plainText(where);
  const message = `${place === '' ? '' : `${place}: `}found ${plainText(found)}, allowed ${plainText(allowed)}`;
  return { where: place, found: plainText(found), allowed: plainText(allowed), message };
}

/** A value as it is shown in a fault: text in quotes, long things cut, control characters spelled out. */
export function showValue(value: unknown): string {
  if (value === undefined) return 'nothing';
  if (typeof value === 'number') return String(value);
  const text = plainText(JSON.stringify(value) ?? typeof value);
  return text.length > 80 ? `${text.slice(0, 77)}...` : text;
}

/** Control characters and line separators spelled out, so that a message stays one harmless line. */
export function plainText(text: string): string {
  return text.replace(
    /[\p{Cc}\p{Cs}\u2028\u2029]/gu,
    (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
}

/** Gathers faults: the first twenty as they are, a count of the rest. */
export class FaultList {
  readonly #told: Fault[] = [];
  #count = 0;

  add(where: string, found: unknown, allowed: string): void {
    this.addWords(where, showValue(found), allowed);
  }

  /** Adds a fault whose finding is told in words of its own rather than shown as a value. */
  addWords(where: string, found: string, allowed: string): void {
    this.#count += 1;
    if (this.#told.length < MOST_TOLD) this.#told.push(describeFault(where, found, allowed));
  }

  get count(): number {
    return this.#count;
  }

  list(): Fault[] {
    const more = this.#count - this.#told.length;
    if (more === 0) return [...this.#told];
    return [...this.#told, { where: '', message: `and ${more} more ${more === 1 ? 'fault' : 'faults'}` }];
  }

  /** Throws `InputFaults` if anything was found wrong. */
  throwIfAny(): void {
    if (this.#count > 0) throw new InputFaults(this.list());
  }
}
