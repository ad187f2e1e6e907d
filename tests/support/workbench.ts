import { join } from 'node:path';
import { expect } from 'vitest';
import { openSitting } from '../../trials/rounds/sitting-life.ts';
import { ErrorAnswer, ROUTES, type RouteName } from '../../trials/schema/api.ts';
import { openStore, type Store } from '../../trials/store/store.ts';
import type { Configuration } from '../../web/server/configuration.ts';
import { serve } from '../../web/server/server.ts';
import { atFileEnd } from './file-end.ts';
import { drawnTrial } from './small-trial.ts';
import { contextOf, folderWithData, freshFolder, NOON } from './trial-folder.ts';

/** What came back. */
export interface Reply {
  status: number;
  headers: Headers;
  // biome-ignore lint/suspicious/noExplicitAny: tests look into answers of every kind
  body: any;
}

export interface Asked {
  params?: Record<string, string | number>;
  body?: unknown;
  headers?: Record<string, string>;
}

/** A workbench that is served for a test. */
export interface Workbench {
  base: string;
  store: Store;
  /** Calls a route of the table; an answer or refusal that does not fit its schema fails the test. */
  ask(name: RouteName, asked?: Asked): Promise<Reply>;
  stop(): Promise<void>;
}

const FIXTURE_WORKER = join(import.meta.dirname, 'fixture-worker.mjs');

/** Serves a copy of the data template on a free port. */
export async function openWorkbench(
  given: Partial<Configuration> & {
    demo?: boolean;
    folder?: string;
    now?: () => Date;
    maximumPages?: number;
  } = {},
): Promise<Workbench> {
  const {
    demo = true,
    folder = folderWithData({ demo }),
    now = () => NOON,
    maximumPages,
    ...configuration
  } = given;
  const store = openStore(folder, maximumPages === undefined ? {} : { maximumPages });
  const served = await serve(
    {
      port: 0,
      shared: false,
      secure: null,
      pages: freshFolder(),
      worker: FIXTURE_WORKER,
      threads: 1,
      log: 'silent',
      beat: 20,
      ...configuration,
    },
    store,
    now,
  );
  atFileEnd(() => served.stop());
  const base = `http://127.0.0.1:${served.port}`;
  return { base, store, ask: (name, asked = {}) => askAt(base, name, asked), stop: () => served.stop() };
}

async function askAt(base: string, name: RouteName, { params = {}, body, headers }: Asked): Promise<Reply> {
  const { method, answer } = ROUTES[name];
  const response = await fetch(base + pathOf(name, params), {
    method,
    headers: { ...(body === undefined ? {} : { 'content-type': 'application/json' }), ...headers },
    ...(body === undefined ? {} : { body: typeof body === 'string' ? body : JSON.stringify(body) }),
  });
  const reply = { status: response.status, headers: response.headers, body: await response.json() };
  const schema = response.ok ? answer : ErrorAnswer;
  const judged = schema.safeParse(reply.body);
  if (!judged.success) expect.fail(`${name} answered what its schema refuses: ${judged.error.message}`);
  if (response.ok) expect(reply.body).toEqual(judged.data);
  return reply;
}

/** The path of a route with its words filled in. */
export function pathOf(name: RouteName, params: Record<string, string | number> = {}): string {
  return ROUTES[name].path.replace(/:(\w+)/g, (_, key: string) => encodeURIComponent(String(params[key])));
}

/** A small trial with an open sitting, and the ballot header of each taster. */
export function openSittingIn(store: Store) {
  const context = contextOf(store);
  const { trial, sitting, tokens } = drawnTrial(context);
  openSitting(context, { trial, sitting });
  const headers = tokens.map(({ token }) => ({ 'x-dropwise-ballot': token }));
  const codes = store.sittings.cupsOf({ trial, sitting, assessor: 'Ann' }).map(({ code }) => code);
  return { trial, sitting, place: { trial, sitting }, ann: headers[0]!, bob: headers[1]!, codes };
}
