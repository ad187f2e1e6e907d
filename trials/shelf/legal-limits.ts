import { readFileSync } from 'node:fs';
import type { Limit } from '../../engine/bench/limits.ts';
import { LimitsFile } from './shelf-schema.ts';

let read: readonly Limit[] | undefined;

/** The legal limits in force, read once; repealed rows are left out. */
export function legalLimits(): readonly Limit[] {
  read ??= LimitsFile.parse(
    JSON.parse(readFileSync(new URL('limits.json', import.meta.url), 'utf8')),
  ).limits.flatMap(({ asWritten: _, evidence: __, kind, ...row }) =>
    kind === 'repealed' ? [] : [{ ...row, kind }],
  );
  return read;
}
