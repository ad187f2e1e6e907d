import { enterOldTables, lookAtOldTables } from '../../../trials/rounds/enter-old-tables.ts';
import type { Handlers } from '../handler.ts';
import { contextFor, type House } from '../house.ts';

type Names = 'lookAtOldTables' | 'enterOldTables';

/** Old files, looked at and taken in. */
export function oldHandlers(house: House): Pick<Handlers, Names> {
  return {
    lookAtOldTables: ({ body, caller }) => lookAtOldTables(contextFor(house, caller.role), body),
    enterOldTables: ({ body, caller }) => enterOldTables(contextFor(house, caller.role), body),
  };
}
