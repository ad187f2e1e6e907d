import type { ErrorAnswer, Fault } from '../schema/api.ts';
import { makeFault } from '../schema/faults.ts';

type Code = Extract<ErrorAnswer['error']['code'], 'bad-input' | 'not-found' | 'conflict' | 'not-allowed'>;

/** A use case said no. Nothing has been changed. */
export class Refusal extends Error {
  readonly code: Code;
  readonly faults: readonly Fault[];

  constructor(code: Code, message: string, faults: readonly Fault[] = []) {
    super(message);
    this.name = 'Refusal';
    this.code = code;
    this.faults = faults;
  }
}

/** What was asked for is not there. */
export function notFound(what: string): Refusal {
  return new Refusal('not-found', `${what} is not there`);
}

/** What was asked for does not fit the state that things are in. */
export function conflict(message: string): Refusal {
  return new Refusal('conflict', message);
}

/** One field of what was sent cannot be used. */
export function badInput(where: string, found: unknown, allowed: string): Refusal {
  const fault = makeFault(where, found, allowed);
  return new Refusal('bad-input', fault.message, [fault]);
}
