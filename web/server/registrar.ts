import express, { type Express, type Request, type RequestHandler, type Response } from 'express';
import type { $ZodIssue, $ZodType } from 'zod/v4/core';
import { safeParse } from 'zod/v4/core';
import { ROUTES, type RouteName } from '../../trials/schema/api.ts';
import { FaultList } from '../../trials/schema/faults.ts';
import { addIssues, pathText } from '../../trials/schema/schema-faults.ts';
import { ApiError } from './api-error.ts';
import { type Caller, callerOf } from './caller.ts';
import { type Subscribe, streamEvents } from './event-stream.ts';
import type { Handlers } from './handler.ts';
import type { House } from './house.ts';
import { type Limit, limiters } from './limits.ts';

/** One row of the table, seen without its particular types. */
interface AnyRoute {
  method: 'GET' | 'POST' | 'PUT' | 'DELETE';
  path: string;
  roles: readonly string[];
  params?: $ZodType;
  body?: $ZodType;
  stream?: boolean;
}

type AnyHandler = (call: object) => unknown;

/** The largest body, by route; a whole trial may be large. */
const LARGEST: Partial<Record<RouteName, string>> = {
  importTrial: '64mb',
  lookAtOldTables: '32mb',
  enterOldTables: '32mb',
};
const LARGEST_ELSEWHERE = '1mb';

/**
 * Makes every route of the table: limit, role, body, schema, handler, answer, in this order, so that a stranger's
 * body is not even read.
 */
export function registerRoutes(app: Express, house: House, handlers: Handlers): void {
  const limits = limiters();
  for (const name of Object.keys(ROUTES) as RouteName[]) {
    const route: AnyRoute = ROUTES[name];
    const method = route.method.toLowerCase() as 'get' | 'post' | 'put' | 'delete';
    const steps = [note(name), limits[limitOf(name, route)], allow(house, route)];
    if (route.body) steps.push(readBody(LARGEST[name] ?? LARGEST_ELSEWHERE));
    app[method](route.path, ...steps, answer(house, route, handlers[name] as AnyHandler));
  }
}

/** Remembers the route's name for the log, which never holds an address. */
function note(name: RouteName): RequestHandler {
  return (_request, response, next) => {
    response.locals['route'] = name;
    next();
  };
}

function limitOf(name: RouteName, { roles }: AnyRoute): Limit {
  if (name === 'enter' || name === 'enterToPour') return 'passcode';
  return roles.includes('taster') ? 'ballot' : 'none';
}

function allow(house: House, route: AnyRoute): RequestHandler {
  return (request, response, next) => {
    const caller = callerOf(house, request);
    response.locals['caller'] = caller;
    if (!route.roles.includes('anyone') && !route.roles.includes(caller.role))
      throw new ApiError('not-allowed', refusalFor(caller, route));
    next();
  };
}

function refusalFor({ role }: Caller, { roles }: AnyRoute): string {
  if (roles.includes('taster')) return 'this ballot link is not known here';
  return role === 'anyone' ? 'enter the passcode first' : `this is not for a ${role}`;
}

function readBody(limit: string): RequestHandler {
  return express.json({ limit, strict: true, type: 'application/json' });
}

function answer(house: House, route: AnyRoute, handler: AnyHandler) {
  return async (request: Request, response: Response) => {
    const caller = response.locals['caller'] as Caller;
    const params = route.params ? parse(route.params, { ...request.params }) : undefined;
    refuseOtherSitting(caller, params);
    const body = route.body ? parse(route.body, request.body) : undefined;
    const result = await handler({ params, body, raw: request.body, caller, request, response });
    if (route.stream) streamEvents({ request, response }, result as Subscribe<unknown>, house.streams);
    else response.set('cache-control', 'no-store').json(result);
  };
}

/** A pourer's cookie opens one sitting. */
function refuseOtherSitting({ role, pouring }: Caller, params: unknown): void {
  if (role !== 'pourer') return;
  const asked = params as { trial?: string; sitting?: string } | undefined;
  if (asked !== undefined && (asked.trial !== pouring?.trial || asked.sitting !== pouring?.sitting))
    throw new ApiError('not-allowed', 'this link is for another sitting');
}

function parse(schema: $ZodType, value: unknown): unknown {
  const parsed = safeParse(schema, value);
  if (parsed.success) return parsed.data;
  const faults = new FaultList();
  addIssues(parsed.error.issues as $ZodIssue[], value, pathText, faults);
  const list = faults.list();
  throw new ApiError('bad-input', list[0]?.message ?? 'the request cannot be used', list);
}
