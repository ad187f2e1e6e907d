import { readFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { loadDemo } from '../../trials/rounds/demo-trial.ts';
import { dataFolder } from '../../trials/store/data-folder.ts';
import { openStore, type Store } from '../../trials/store/store.ts';
import { StoreError } from '../../trials/store/store-error.ts';
import type { Configuration } from './configuration.ts';
import { type Options, readOptions, USAGE, UsageError } from './options.ts';
import { drawPasscode, hasPasscode, setPasscode } from './passcode.ts';
import { type Running, serve } from './server.ts';

/** Ports that are tried one after the other. */
const PORTS_TRIED = 20;
const BUILT = join(import.meta.dirname, '../..').endsWith('dist');
const DIST = BUILT ? join(import.meta.dirname, '../..') : join(import.meta.dirname, '../../dist');

function configurationOf(options: Options): Configuration {
  const { certificate, key, share, port } = options;
  return {
    port,
    shared: share,
    secure: certificate && key ? { certificate: readText(certificate), key: readText(key) } : null,
    pages: join(DIST, 'pages'),
    worker: join(DIST, 'web/server/worker.js'),
    threads: Math.max(1, availableParallelism() - 1),
    log: logLevel(process.env['DROPWISE_LOG']),
    beat: 250,
  };
}

function readText(file: string): string {
  try {
    return readFileSync(file, 'utf8');
  } catch {
    throw new UsageError(`${file} cannot be read`);
  }
}

function logLevel(asked: string | undefined): Configuration['log'] {
  return (['silent', 'error', 'warn', 'info', 'debug'] as const).find((level) => level === asked) ?? 'warn';
}

/** Serves at the port asked for or, where that is taken, the next free one. */
async function serveNearby(configuration: Configuration, store: Store): Promise<Running> {
  for (let tried = 0; ; tried++) {
    const port = configuration.port === 0 ? 0 : configuration.port + tried;
    try {
      return await serve({ ...configuration, port }, store);
    } catch (thrown) {
      const taken = thrown instanceof Error && 'code' in thrown && thrown.code === 'EADDRINUSE';
      if (!taken || tried + 1 >= PORTS_TRIED || port >= 65535) throw thrown;
      console.error(`dropwise: port ${port} is taken, trying ${port + 1}`);
    }
  }
}

/** The passcode to use: a new one is drawn where there is none yet or it was asked for, and shown this once. */
async function preparePasscode(store: Store, options: Options): Promise<void> {
  if (!options.share) return;
  const given = process.env['DROPWISE_PASSCODE'];
  if (!given && hasPasscode(store) && !options.newPasscode) {
    console.log('dropwise: the passcode is the one drawn earlier (--new-passcode draws another)');
    return;
  }
  const passcode = given || drawPasscode();
  await setPasscode(store, passcode, new Date());
  if (!given) console.log(`dropwise: passcode ${passcode} (shown once; only a hash of it is kept)`);
}

function announce(running: Running, configuration: Configuration, folder: string): void {
  const [first, ...others] = running.addresses;
  console.log(`dropwise: open ${first}`);
  for (const other of others) console.log(`          or   ${other}`);
  console.log(`dropwise: data in ${folder}; stop with Ctrl-C`);
  if (configuration.shared && configuration.secure === null)
    console.log('dropwise: on plain http, scores and the passcode can be read on this network');
}

async function main(): Promise<void> {
  const options = readOptions(process.argv.slice(2));
  if (options.help) {
    console.log(USAGE);
    return;
  }
  const configuration = configurationOf(options);
  const folder = dataFolder(options.data);
  const store = openStore(folder);
  loadDemo({ store, now: () => new Date(), who: 'demo' });
  await preparePasscode(store, options);
  const running = await serveNearby(configuration, store);
  announce(running, configuration, folder);
  let stopping = false;
  const stop = () => {
    if (stopping) return;
    stopping = true;
    running.stop().then(
      () => process.exit(0),
      () => process.exit(1),
    );
  };
  process.on('SIGTERM', stop);
  process.on('SIGINT', stop);
}

main().catch((thrown: unknown) => {
  const words = thrown instanceof Error ? thrown.message : String(thrown);
  console.error(`dropwise: ${words}`);
  if (thrown instanceof UsageError) console.error(USAGE);
  else if (!(thrown instanceof StoreError)) console.error(thrown);
  process.exit(thrown instanceof UsageError ? 2 : 1);
});
