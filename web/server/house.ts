import type { Logger } from 'pino';
import type { Context } from '../../trials/rounds/context.ts';
import type { Store } from '../../trials/store/store.ts';
import type { Addresses } from './addresses.ts';
import type { Configuration } from './configuration.ts';
import type { JobBoard } from './job-board.ts';
import type { LiveBell } from './live-bell.ts';

/** What every handler may use. */
export interface House {
  configuration: Configuration;
  store: Store;
  now: () => Date;
  jobs: JobBoard;
  bell: LiveBell;
  addresses: Addresses;
  /** What ends each open stream. */
  streams: Set<() => void>;
  log: Logger;
}

/** The use cases' context for someone acting. */
export function contextFor(house: House, who: string): Context {
  return { store: house.store, now: house.now, who };
}
