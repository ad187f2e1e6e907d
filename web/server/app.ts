import compression from 'compression';
import express, { type ErrorRequestHandler, type Express, type RequestHandler } from 'express';
import { ApiError, toApiError } from './api-error.ts';
import type { Caller } from './caller.ts';
import { guard } from './guard.ts';
import type { Handlers } from './handler.ts';
import { ballotHandlers } from './handlers/ballot-handlers.ts';
import { benchHandlers } from './handlers/bench-handlers.ts';
import { cardHandlers } from './handlers/card-handlers.ts';
import { houseHandlers } from './handlers/house-handlers.ts';
import { jobHandlers } from './handlers/job-handlers.ts';
import { ladderHandlers } from './handlers/ladder-handlers.ts';
import { oldHandlers } from './handlers/old-handlers.ts';
import { shelfHandlers } from './handlers/shelf-handlers.ts';
import { sittingHandlers } from './handlers/sitting-handlers.ts';
import { trialHandlers } from './handlers/trial-handlers.ts';
import type { House } from './house.ts';
import { servePages } from './pages.ts';
import { registerRoutes } from './registrar.ts';
import { safetyHeaders } from './safety-headers.ts';

/** The whole workbench as one request handler; it listens nowhere yet. */
export function makeApp(house: House): Express {
  const app = express();
  app.disable('x-powered-by');
  app.set('query parser', 'simple');
  app.use(logRequests(house));
  app.use(safetyHeaders(house));
  app.use(guard(house.addresses));
  app.use(compression());
  registerRoutes(app, house, handlersOf(house));
  app.use('/api', () => {
    throw new ApiError('not-found', 'there is nothing at this address');
  });
  app.use(...servePages(house.configuration.pages));
  app.use(answerErrors(house));
  return app;
}

function handlersOf(house: House): Handlers {
  return {
    ...houseHandlers(house),
    ...trialHandlers(house),
    ...oldHandlers(house),
    ...jobHandlers(house),
    ...sittingHandlers(house),
    ...benchHandlers(house),
    ...shelfHandlers(house),
    ...cardHandlers(house),
    ...ladderHandlers(house),
    ...ballotHandlers(house),
  };
}

/** One line a request: the route's name, never its address, its body or who sent it. */
function logRequests({ log }: House): RequestHandler {
  return (request, response, next) => {
    const began = performance.now();
    response.on('finish', () => {
      const { route = 'page', caller } = response.locals as { route?: string; caller?: Caller };
      const milliseconds = Math.round(performance.now() - began);
      log.info({
        method: request.method,
        route,
        role: caller?.role,
        status: response.statusCode,
        milliseconds,
      });
    });
    next();
  };
}

/** The only place where refusals become answers. */
function answerErrors({ log }: House): ErrorRequestHandler {
  return (thrown, _request, response, next) => {
    const error = toApiError(thrown);
    const route = response.locals['route'];
    if (error.code === 'internal' || error.code === 'unavailable')
      log.error({ err: thrown, route }, error.message);
    if (response.headersSent) return next(thrown);
    response.status(error.status).set('cache-control', 'no-store').json(error.toAnswer());
  };
}
