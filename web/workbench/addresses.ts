import { ROUTES, type RouteName } from '../../trials/schema/api.ts';

/**
 * Method and path of every route. In the built pages the finished list stands in place of this file (vite.config.ts):
 * whoever only calls routes need not carry the schemas behind them.
 */
export const ADDRESSES = Object.fromEntries(
  Object.entries(ROUTES).map(([name, { method, path }]) => [name, { method, path }]),
) as Record<RouteName, { method: string; path: string }>;
