import type { Fault } from '../../../trials/schema/api.ts';
import { faultWords, worthTelling } from './fault-words.ts';

/** Says what is wrong with the field at a path, or undefined. */
export type FaultAt = (path: string) => string | undefined;

/** Faults beside their fields: the first fault of each path, and of a bound or list as a whole. */
export function faultsByPath(faults: readonly Fault[]): FaultAt {
  const table = new Map<string, string>();
  // The place is plain to see beside the field, so only what was found and what is allowed is said.
  for (const fault of worthTelling(faults))
    if (!table.has(fault.where)) table.set(fault.where, faultWords(fault));
  return (path) => table.get(path);
}
