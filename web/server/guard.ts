import type { NextFunction, Request, RequestHandler, Response } from 'express';
import type { Addresses } from './addresses.ts';
import { ApiError } from './api-error.ts';
import { BALLOT_HEADER } from './caller.ts';

/**
 * Answers only requests that were meant for this workbench: the Host header must be one of its own addresses (a name
 * that an attacker has pointed here is none), and what a browser sends on behalf of another site is refused. Ballots
 * carry their right in a header of their own and never a cookie, so a ballot page may also call from an address
 * that this workbench has or had.
 */
export function guard(addresses: Addresses): RequestHandler {
  return (request, response, next) => {
    response.vary('Origin');
    if (!addresses.isOwnHost(request.headers.host ?? ''))
      throw new ApiError('not-allowed', 'this workbench is not reached under that name');
    const isPage = !request.path.startsWith('/api/');
    if (isPage || isSameSite(request)) next();
    else if (isBallotCall(request, addresses)) answerBallot(request, response, next);
    else throw new ApiError('not-allowed', 'requests from other sites are refused');
  };
}

function isSameSite(request: Request): boolean {
  const { origin } = request.headers;
  const site = request.get('sec-fetch-site');
  if (origin !== undefined && origin !== `${request.protocol}://${request.headers.host}`) return false;
  return site === undefined || site === 'same-origin' || site === 'none';
}

function isBallotCall(request: Request, addresses: Addresses): boolean {
  const { origin } = request.headers;
  const isBallot = request.path === '/api/ballot' || request.path.startsWith('/api/ballot/');
  return isBallot && origin !== undefined && addresses.isKnownOrigin(origin);
}

/** Lets the page at another address of this workbench read the answer, and answers its browser's question first. */
function answerBallot(request: Request, response: Response, next: NextFunction): void {
  response.set('Access-Control-Allow-Origin', request.headers.origin!);
  if (request.method !== 'OPTIONS') {
    next();
    return;
  }
  response.set('Access-Control-Allow-Methods', 'GET, POST, PUT');
  response.set('Access-Control-Allow-Headers', `content-type, ${BALLOT_HEADER}`);
  response.set('Access-Control-Max-Age', '600');
  response.status(204).end();
}
