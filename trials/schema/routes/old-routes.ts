import { z } from 'zod';
import { OldLook, OldTables } from '../old-tables.ts';
import { maker, type Route } from './route.ts';

/** Data from before there was a trial: weighings and scores kept in a spreadsheet. */
export const OLD_ROUTES = {
  lookAtOldTables: {
    method: 'POST',
    path: '/api/old-tables/looks',
    roles: maker,
    body: OldTables,
    answer: OldLook,
    says: 'what old files hold and what is wrong with them; nothing is stored',
  },
  enterOldTables: {
    method: 'POST',
    path: '/api/old-tables',
    roles: maker,
    body: OldTables,
    answer: z.object({ trial: z.string(), round: z.int() }),
    says: 'a tasted round from old files, whole or not at all',
  },
} as const satisfies Record<string, Route>;
