import { EngineError } from '../../engine/errors.ts';
import { Refusal } from '../../trials/rounds/refusal.ts';
import type { ErrorAnswer, Fault } from '../../trials/schema/api.ts';
import { InputFaults, showValue } from '../../trials/schema/faults.ts';
import { asStoreError, type StoreError } from '../../trials/store/store-error.ts';

type Code = ErrorAnswer['error']['code'];

/** The HTTP status of each code. */
const STATUS: Record<Code, number> = {
  'bad-input': 400,
  'not-allowed': 403,
  'not-found': 404,
  conflict: 409,
  'too-large': 413,
  'too-many': 429,
  unavailable: 503,
  internal: 500,
};

/** A request that cannot be answered, in the one shape that every caller gets. */
export class ApiError extends Error {
  readonly code: Code;
  readonly faults: readonly Fault[];

  constructor(code: Code, message: string, faults: readonly Fault[] = []) {
    super(message);
    this.name = 'ApiError';
    this.code = code;
    this.faults = faults;
  }

  get status(): number {
    return STATUS[this.code];
  }

  toAnswer(): ErrorAnswer {
    return { error: { code: this.code, message: this.message, faults: [...this.faults] } };
  }
}

/** Whatever was thrown, as an `ApiError`; what nobody foresaw becomes `internal` without details. */
export function toApiError(thrown: unknown): ApiError {
  if (thrown instanceof ApiError) return thrown;
  if (thrown instanceof Refusal) return new ApiError(thrown.code, thrown.message, thrown.faults);
  if (thrown instanceof InputFaults)
    return new ApiError('bad-input', thrown.faults[0]?.message ?? thrown.message, thrown.faults);
  if (thrown instanceof EngineError) return fromEngine(thrown);
  const store = asStoreError(thrown);
  if (store !== null) return fromStore(store);
  return fromParser(thrown) ?? new ApiError('internal', 'something went wrong inside the workbench');
}

function fromEngine(error: EngineError): ApiError {
  if (error.fault === 'cancelled') return new ApiError('conflict', 'stopped on request');
  if (error.fault === 'solver-failed') return new ApiError('internal', error.message);
  const { argument: where, allowed, message } = error;
  return new ApiError('bad-input', message, [{ where, found: showValue(error.found), allowed, message }]);
}

function fromStore(error: StoreError): ApiError {
  switch (error.fault) {
    case 'broken-rule':
      return new ApiError('conflict', error.message);
    case 'missing':
      return new ApiError('not-found', error.message);
    case 'newer':
    case 'older':
    case 'foreign':
      return new ApiError('bad-input', error.message);
    default:
      return new ApiError('unavailable', error.message);
  }
}

/** Errors of the HTTP layer, which carry a status of their own. */
function fromParser(thrown: unknown): ApiError | null {
  if (!(thrown instanceof Error) || !('status' in thrown)) return null;
  const status = Number(thrown.status);
  if (status === 413) return new ApiError('too-large', 'more was sent than is taken here');
  if (status >= 400 && status < 500) return new ApiError('bad-input', 'the request cannot be read');
  return null;
}
