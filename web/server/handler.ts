import type { Request, Response } from 'express';
import type { output, ZodType } from 'zod';
import type { $ZodType } from 'zod/v4/core';
import type { ROUTES, RouteName } from '../../trials/schema/api.ts';
import type { SeatKey } from '../../trials/store/records.ts';
import { ApiError } from './api-error.ts';
import type { Caller } from './caller.ts';
import type { Subscribe } from './event-stream.ts';

type Route<N extends RouteName> = (typeof ROUTES)[N];
type Parsed<R, K extends 'params' | 'body'> =
  R extends Record<K, infer S extends $ZodType> ? output<S> : undefined;
type AnswerOf<N extends RouteName> = Route<N>['answer'] extends infer S extends ZodType | $ZodType
  ? output<S>
  : never;

/** A request that has been allowed and parsed. */
export interface Call<N extends RouteName> {
  params: Parsed<Route<N>, 'params'>;
  body: Parsed<Route<N>, 'body'>;
  /** The body as it came, for what judges it further. */
  raw: unknown;
  caller: Caller;
  request: Request;
  response: Response;
}

/** Answers one route of the table; a stream's handler says what to listen to. */
export type Handler<N extends RouteName> = (
  call: Call<N>,
) => Route<N> extends { stream: true } ? Subscribe<AnswerOf<N>> : AnswerOf<N> | Promise<AnswerOf<N>>;

export type Handlers = { [N in RouteName]: Handler<N> };

/** The taster's seat of a call that only tasters may make. */
export function seatOf({ caller }: { caller: Caller }): SeatKey {
  if (caller.seat === null) throw new ApiError('not-allowed', 'this needs a ballot link');
  return caller.seat;
}
