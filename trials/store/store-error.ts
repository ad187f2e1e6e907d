/** Why the data cannot be used; a closed list, so that callers can answer each in words. */
export type StoreFault =
  | 'newer'
  | 'older'
  | 'damaged'
  | 'foreign'
  | 'in-use'
  | 'missing'
  | 'full'
  | 'read-only'
  | 'busy'
  | 'broken-rule'
  | 'failed';

/** The data on disk cannot be opened, read or written; the message says why in words and what can be done. */
export class StoreError extends Error {
  readonly fault: StoreFault;

  constructor(fault: StoreFault, message: string, cause?: unknown) {
    super(message, cause === undefined ? undefined : { cause });
    this.name = 'StoreError';
    this.fault = fault;
  }
}

const WORDS: readonly [prefix: string, fault: StoreFault, words: string][] = [
  ['SQLITE_FULL', 'full', 'the disk is full: nothing was stored; make room and try again'],
  ['SQLITE_READONLY', 'read-only', 'the data can be read but not written: nothing was stored'],
  ['SQLITE_PERM', 'read-only', 'the data may not be written by this user: nothing was stored'],
  ['SQLITE_CANTOPEN', 'read-only', 'the data file cannot be opened here: nothing was stored'],
  ['SQLITE_BUSY', 'busy', 'the data is being written by something else: nothing was stored; try again'],
  ['SQLITE_CORRUPT', 'damaged', 'the data file is damaged: nothing was stored; restore a copy'],
  ['SQLITE_NOTADB', 'damaged', 'the data file is damaged: nothing was stored; restore a copy'],
  ['SQLITE_CONSTRAINT', 'broken-rule', 'that would break a rule of the stored data: nothing was stored'],
  ['SQLITE_', 'failed', 'the data could not be read or written: nothing was stored'],
];

/** A failure of the database as a `StoreError` in words; null where `thrown` is something else. */
export function asStoreError(thrown: unknown): StoreError | null {
  if (thrown instanceof StoreError) return thrown;
  const code = thrown instanceof Error && 'code' in thrown ? String(thrown.code) : '';
  const known = WORDS.find(([prefix]) => code.startsWith(prefix));
  return known ? new StoreError(known[1], known[2], thrown) : null;
}
