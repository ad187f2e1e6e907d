import type { NextFunction, Request, RequestHandler, Response } from 'express';
import { ipKeyGenerator, type Options, rateLimit } from 'express-rate-limit';
import { hashToken } from '../../trials/rounds/tokens.ts';
import { ApiError } from './api-error.ts';
import { BALLOT_HEADER } from './caller.ts';

const MINUTE = 60_000;

/** How often a route may be called before it says wait. */
export type Limit = 'passcode' | 'ballot' | 'none';

/** One limiter for guesses, one for ballots; the maker's own pages are not limited. */
export function limiters(): Record<Limit, RequestHandler> {
  return {
    passcode: limiter({
      windowMs: 15 * MINUTE,
      limit: 10,
      skipSuccessfulRequests: true,
      keyGenerator: byAddress,
    }),
    ballot: limiter({ windowMs: MINUTE, limit: 600, keyGenerator: byToken }),
    none: (_request, _response, next) => next(),
  };
}

function limiter(options: Partial<Options>): RequestHandler {
  return rateLimit({
    standardHeaders: 'draft-8',
    legacyHeaders: false,
    validate: false,
    handler: (_request: Request, _response: Response, next: NextFunction) =>
      next(new ApiError('too-many', 'too many attempts: wait a while, then try again')),
    ...options,
  });
}

function byAddress(request: Request): string {
  return ipKeyGenerator(request.ip ?? '');
}

/** 200 phones may share one address, so each token has an allowance of its own. */
function byToken(request: Request): string {
  const token = request.get(BALLOT_HEADER);
  return token === undefined ? byAddress(request) : hashToken(token);
}
