import { spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { Command } from 'commander';
import { describeFault, InputFaults } from '../schema/faults.ts';
import { examples } from './examples.ts';
import { wholeNumber } from './option-values.ts';

interface Options {
  port?: number;
  data?: string;
  share?: boolean;
  certificate?: string;
  key?: string;
}

const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;

export function addOpen(program: Command, exit: (status: number) => void): void {
  program
    .command('open')
    .description('the workbench in the browser, with the demo trial on first start')
    .option(
      '--port <P>',
      'the port to listen on (default: 4321, or the next free one)',
      wholeNumber(0, 65_535),
    )
    .option('--data <DIR>', 'the folder that holds the data (default: DROPWISE_DATA, else the usual place)')
    .option('--share', 'open to the local network, behind a passcode')
    .option('--certificate <F>', 'speak https with this certificate (PEM)')
    .option('--key <F>', "the certificate's key (PEM)")
    .addHelpText(
      'after',
      examples(
        'open --port 8080 --share',
        'open --data my-trials --share --certificate bar.crt --key bar.key',
      ),
    )
    .action(async (options: Options, command: Command) => {
      if ((options.certificate === undefined) !== (options.key === undefined))
        command.error('error: --certificate and --key go together.');
      for (const file of [options.certificate, options.key])
        if (file !== undefined && !existsSync(file))
          throw new InputFaults([describeFault(file, 'no such file', 'a file in PEM form')]);
      exit(await startServer(serverArguments(options)));
    });
}

function serverArguments({ port, data, share, certificate, key }: Options): string[] {
  const given: [string, string | undefined][] = [
    ['--port', port?.toString()],
    ['--data', data],
    ['--certificate', certificate],
    ['--key', key],
  ];
  return [
    ...given.flatMap(([flag, value]) => (value === undefined ? [] : [flag, value])),
    ...(share === true ? ['--share'] : []),
  ];
}

/** The server stands above the command, so it runs as a process of its own; signals are passed on to it. */
function startServer(args: readonly string[]): Promise<number> {
  const script = join(import.meta.dirname, '../../web/server/start.js');
  if (!existsSync(script))
    throw new InputFaults([
      describeFault(script, 'no built server', '`npm run build` before `dropwise open`'),
    ]);
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [script, ...args], { stdio: 'inherit' });
    const passOn = (signal: NodeJS.Signals) => child.kill(signal);
    for (const signal of SIGNALS) process.on(signal, passOn);
    child.once('error', reject);
    child.once('exit', (code) => {
      for (const signal of SIGNALS) process.off(signal, passOn);
      resolve(code ?? 0);
    });
  });
}
