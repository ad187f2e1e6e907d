import type { z } from 'zod';
import type { ErrorAnswer, Fault, ROUTES, RouteName } from '../../trials/schema/api.ts';
import { ADDRESSES } from './addresses.ts';

type Route<N extends RouteName> = (typeof ROUTES)[N];
export type Answer<N extends RouteName> = z.infer<Route<N>['answer']>;
type Body<N extends RouteName> =
  Route<N> extends { body: infer B extends z.ZodType } ? z.input<B> : undefined;
export type Params = Record<string, string | number>;

/** The workbench understood and said no: the maker can do something about it. */
export class Refusal extends Error {
  readonly code: ErrorAnswer['error']['code'];
  readonly faults: readonly Fault[];

  constructor(error: ErrorAnswer['error']) {
    super(error.message);
    this.name = 'Refusal';
    this.code = error.code;
    this.faults = error.faults;
  }
}

/** Nothing came back, or nothing that can be read. */
export class Failure extends Error {
  override readonly name = 'Failure';
}

/** `/api/trials/:trial` with its words filled in. */
export function addressOf(name: RouteName, params: Params = {}): string {
  return ADDRESSES[name].path.replace(/:(\w+)/g, (_, key: string) => encodeURIComponent(String(params[key])));
}

/** Calls one route of the table. Throws `Refusal` or `Failure`. */
export async function ask<N extends RouteName>(
  name: N,
  params: Params = {},
  body?: Body<N>,
): Promise<Answer<N>> {
  const response = await fetchOrFail(addressOf(name, params), {
    method: ADDRESSES[name].method,
    headers: {
      accept: 'application/json',
      ...(body === undefined ? {} : { 'content-type': 'application/json' }),
    },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  });
  const answer: unknown = await response.json().catch(() => undefined);
  if (response.ok && answer !== undefined) return answer as Answer<N>;
  throw await errorIn(answer, response.status);
}

/** What an answer that is no success says; the schema is fetched only here, since most calls succeed. */
async function errorIn(answer: unknown, status: number): Promise<Refusal | Failure> {
  const schema = await import('../../trials/schema/api.ts').catch(() => null);
  const read = schema?.ErrorAnswer.safeParse(answer);
  if (!read?.success) return new Failure(`the workbench answered ${status} and nothing that can be read`);
  const { error } = read.data;
  return error.code === 'internal' ? new Failure(error.message) : new Refusal(error);
}

async function fetchOrFail(address: string, init: RequestInit): Promise<Response> {
  try {
    return await fetch(address, init);
  } catch {
    throw new Failure('the workbench does not answer: is it still running?');
  }
}

/** Follows a stream of the table; the browser reconnects by itself. Returns what stops it. */
export function follow<N extends 'followJob' | 'followLive'>(
  name: N,
  params: Params,
  told: (answer: Answer<N>) => void,
  lost: () => void = () => {},
): () => void {
  const source = new EventSource(addressOf(name, params));
  source.onmessage = (event) => told(JSON.parse(event.data) as Answer<N>);
  source.onerror = lost;
  return () => source.close();
}
