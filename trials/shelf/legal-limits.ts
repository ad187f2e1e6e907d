import { readFileSync } from 'node:fs';
import type { Limit } from '../../engine/bench/limits.ts';
import { LimitsFile } from './shelf-schema.ts';

/** A limit with the drinks and foods it speaks of, in the law's words. */
type LegalLimit = Limit & { category: string };

let read: readonly LegalLimit[] | undefined;

/** The legal limits in force, read once; repealed rows are left out. */
export function legalLimits(): readonly LegalLimit[] {
  read ??= LimitsFile.parse(
    JSON.parse(readFileSync(new URL('limits.json', import.meta.url), 'utf8')),
  ).limits.flatMap(({ asWritten: _, evidence: __, kind, ...row }) =>
    kind === 'repealed' ? [] : [{ ...row, kind }],
  );
  return read;
}
