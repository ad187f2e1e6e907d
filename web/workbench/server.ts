import type { z } from 'zod';
import { ErrorAnswer, type Fault, ROUTES, type RouteName } from '../../trials/schema/api.ts';

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
  return ROUTES[name].path.replace(/:(\w+)/g, (_, key: string) => encodeURIComponent(String(params[key])));
}

/** Calls one route of the table. Throws `Refusal` or `Failure`. */
export async function ask<N extends RouteName>(
  name: N,
  params: Params = {},
  body?: Body<N>,
): Promise<Answer<N>> {
  const response = await fetchOrFail(addressOf(name, params), {
    method: ROUTES[name].method,
    headers: {
      accept: 'application/json',
      ...(body === undefined ? {} : { 'content-type': 'application/json' }),
    },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  });
  const answer: unknown = await response.json().catch(() => undefined);
  if (response.ok && answer !== undefined) return answer as Answer<N>;
  const refused = ErrorAnswer.safeParse(answer);
  if (refused.success && refused.data.error.code !== 'internal') throw new Refusal(refused.data.error);
  throw new Failure(
    refused.success
      ? refused.data.error.message
      : `the workbench answered ${response.status} and nothing that can be read`,
  );
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
