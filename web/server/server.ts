import { createServer, type Server } from 'node:http';
import { createServer as createSecureServer } from 'node:https';
import type { AddressInfo } from 'node:net';
import { pino } from 'pino';
import type { Store } from '../../trials/store/store.ts';
import { type Addresses, addressesOf } from './addresses.ts';
import { makeApp } from './app.ts';
import type { Configuration } from './configuration.ts';
import type { House } from './house.ts';
import { jobBoard } from './job-board.ts';
import { liveBell } from './live-bell.ts';
import { workerPool } from './worker-pool.ts';

/** A workbench that is being served. */
export interface Running {
  port: number;
  /** Where to open it, the best first. */
  addresses: string[];
  /** Ends streams, lets requests under way finish, stops computations, closes the data. */
  stop(): Promise<void>;
}

/** Phones answer every quarter of a minute or so: their connections are kept that much longer, in milliseconds. */
const KEPT_OPEN = 75_000;

/** How long requests under way may take once the workbench is asked to stop, in milliseconds. */
const GRACE = 3000;

/**
 * Serves a workbench over an opened store.
 * @throws the system's error (`code` EADDRINUSE) where the port is taken
 */
export async function serve(
  configuration: Configuration,
  store: Store,
  now: () => Date = () => new Date(),
): Promise<Running> {
  const { secure, shared } = configuration;
  const server = secure ? createSecureServer({ cert: secure.certificate, key: secure.key }) : createServer();
  server.keepAliveTimeout = KEPT_OPEN;
  const port = await listen(server, configuration.port, shared ? '0.0.0.0' : '127.0.0.1');
  const addresses: Addresses = addressesOf(configuration, port);
  const house: House = {
    configuration,
    store,
    now,
    addresses,
    streams: new Set(),
    log: pino({ level: configuration.log, base: null }, pino.destination({ dest: 2, sync: false })),
    bell: liveBell(configuration.beat),
    jobs: jobBoard(workerPool(configuration.worker, configuration.threads)),
  };
  server.on('request', makeApp(house));
  return { port, addresses: addresses.advertised(), stop: () => stop(server, house) };
}

function listen(server: Server, port: number, host: string): Promise<number> {
  return new Promise((resolve, reject) => {
    server.once('error', reject);
    server.listen({ port, host }, () => {
      server.off('error', reject);
      resolve((server.address() as AddressInfo).port);
    });
  });
}

async function stop(server: Server, house: House): Promise<void> {
  house.bell.close();
  for (const end of house.streams) end();
  const closed = new Promise<void>((resolve) => server.close(() => resolve()));
  server.closeIdleConnections();
  const late = setTimeout(() => server.closeAllConnections(), GRACE);
  await house.jobs.close();
  await closed;
  clearTimeout(late);
  house.store.close();
}
