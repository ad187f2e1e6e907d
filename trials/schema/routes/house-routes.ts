import { z } from 'zod';
import { Backup } from '../shapes.ts';
import { maker, ok, type Route } from './route.ts';

/** The house itself: who comes in, copies of the data, what there is. */
export const HOUSE_ROUTES = {
  health: {
    method: 'GET',
    path: '/api/health',
    roles: ['anyone'],
    answer: z.object({ version: z.string() }),
    says: 'is the workbench there',
  },
  me: {
    method: 'GET',
    path: '/api/me',
    roles: ['anyone'],
    answer: z.object({
      role: z.enum(['maker', 'pourer', 'taster', 'anyone']),
      shared: z.boolean(),
      /** The sitting that a pourer or taster was let into. */
      sitting: z.object({ trial: z.string(), sitting: z.string() }).nullable(),
      /** False on plain http beyond this machine: what is sent can be read on the network. */
      secret: z.boolean(),
    }),
    says: 'the role of the caller',
  },
  openapi: {
    method: 'GET',
    path: '/api/openapi.json',
    roles: ['anyone'],
    answer: z.record(z.string(), z.unknown()),
    says: 'this interface, described for machines',
  },
  enter: {
    method: 'POST',
    path: '/api/access',
    roles: ['anyone'],
    body: z.object({ passcode: z.string().min(1).max(200) }),
    answer: ok,
    says: "the maker's passcode for a cookie",
  },
  enterToPour: {
    method: 'POST',
    path: '/api/access/pourer',
    roles: ['anyone'],
    body: z.object({ token: z.string().min(1).max(100) }),
    answer: z.object({ trial: z.string(), sitting: z.string() }),
    says: "a pourer's link for a cookie",
  },
  leave: {
    method: 'DELETE',
    path: '/api/access',
    roles: ['anyone'],
    answer: ok,
    says: 'give the cookie back',
  },
  listBackups: {
    method: 'GET',
    path: '/api/backups',
    roles: maker,
    answer: z.array(Backup),
    says: 'copies of the data file',
  },
  makeBackup: {
    method: 'POST',
    path: '/api/backups',
    roles: maker,
    answer: Backup,
    says: 'copy the data file now',
  },
  restoreBackup: {
    method: 'POST',
    path: '/api/backups/:backup/restoring',
    roles: maker,
    params: z.object({ backup: z.string().max(200) }),
    answer: Backup,
    says: 'put a copy in place of the data; what is there now is kept as a copy first',
  },
} as const satisfies Record<string, Route>;
