import { BALLOT_ROUTES } from './routes/ballot-routes.ts';
import { BENCH_ROUTES } from './routes/bench-routes.ts';
import { CARD_ROUTES } from './routes/card-routes.ts';
import { HOUSE_ROUTES } from './routes/house-routes.ts';
import { JOB_ROUTES } from './routes/job-routes.ts';
import { LADDER_ROUTES } from './routes/ladder-routes.ts';
import { OLD_ROUTES } from './routes/old-routes.ts';
import type { Route } from './routes/route.ts';
import { SHELF_ROUTES } from './routes/shelf-routes.ts';
import { SITTING_ROUTES } from './routes/sitting-routes.ts';
import { TRIAL_ROUTES } from './routes/trial-routes.ts';

export * from './card.ts';
export type { Role } from './routes/route.ts';
export * from './shapes.ts';
export * from './shelf-shapes.ts';

/** Every HTTP route of the workbench: the server, the pages, the role tests and OpenAPI are made from this list. */
export const ROUTES = {
  ...HOUSE_ROUTES,
  ...TRIAL_ROUTES,
  ...OLD_ROUTES,
  ...JOB_ROUTES,
  ...SITTING_ROUTES,
  ...BENCH_ROUTES,
  ...SHELF_ROUTES,
  ...CARD_ROUTES,
  ...LADDER_ROUTES,
  ...BALLOT_ROUTES,
} as const satisfies Record<string, Route>;

export type RouteName = keyof typeof ROUTES;
