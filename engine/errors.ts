/** What went wrong when the engine was misused; a closed list, so that callers can answer each in words. */
export type EngineFault =
  | 'bad-argument'
  | 'empty-region'
  | 'too-few-mixes'
  | 'unweighable'
  | 'no-data'
  | 'cancelled'
  | 'solver-failed';

/**
 * Misuse of an engine function. `argument` names the offending input as a path (`bounds[1].least`), `found` what
 * was received, `allowed` what would have been accepted. What merely cannot be estimated is never an error but a
 * status with a reason inside the result.
 */
export class EngineError extends Error {
  readonly fault: EngineFault;
  readonly argument: string;
  readonly found: unknown;
  readonly allowed: string;

  constructor(fault: EngineFault, argument: string, found: unknown, allowed: string, message?: string) {
    super(message ?? `${argument}: found ${describe(found)}, allowed ${allowed}`);
    this.name = 'EngineError';
    this.fault = fault;
    this.argument = argument;
    this.found = found;
    this.allowed = allowed;
  }
}

function describe(value: unknown): string {
  if (typeof value === 'string') return `"${value}"`;
  if (typeof value === 'number' || typeof value === 'boolean' || value == null) return String(value);
  return JSON.stringify(value)?.slice(0, 200) ?? typeof value;
}
