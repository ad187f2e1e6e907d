import { parseArgs } from 'node:util';

/** What may be said when the workbench is opened. */
export interface Options {
  port: number;
  data: string | undefined;
  share: boolean;
  certificate: string | undefined;
  key: string | undefined;
  newPasscode: boolean;
  help: boolean;
}

export const USAGE = `usage: npm start -- [options]
  --port P            the port to listen on (default 4321; if it is taken, the next free one)
  --data DIR          the folder that holds the data (default: DROPWISE_DATA, else this user's data folder)
  --share             open to the local network; everybody but tasters with a link needs the passcode
  --new-passcode      draw a new passcode (with --share)
  --certificate F     speak https with this certificate (PEM)
  --key F             the certificate's key (PEM)
  --help              this text
`;

/** The command line could not be understood. */
export class UsageError extends Error {}

const DEFAULT_PORT = 4321;

/** Reads the command line. Throws `UsageError` in words. */
export function readOptions(args: readonly string[]): Options {
  const values = parsed(args);
  const port = values.port === undefined ? DEFAULT_PORT : Number(values.port);
  if (!Number.isInteger(port) || port < 0 || port > 65535)
    throw new UsageError(`--port: found ${values.port}, allowed a whole number from 0 to 65535`);
  if ((values.certificate === undefined) !== (values.key === undefined))
    throw new UsageError('--certificate and --key go together');
  return {
    port,
    data: values.data,
    share: values.share ?? false,
    certificate: values.certificate,
    key: values.key,
    newPasscode: values['new-passcode'] ?? false,
    help: values.help ?? false,
  };
}

function parsed(args: readonly string[]) {
  try {
    return parseArgs({
      args: [...args],
      strict: true,
      options: {
        port: { type: 'string' },
        data: { type: 'string' },
        share: { type: 'boolean' },
        certificate: { type: 'string' },
        key: { type: 'string' },
        'new-passcode': { type: 'boolean' },
        help: { type: 'boolean' },
      },
    }).values;
  } catch (thrown) {
    throw new UsageError(thrown instanceof Error ? thrown.message : String(thrown));
  }
}
