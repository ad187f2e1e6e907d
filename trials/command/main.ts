#!/usr/bin/env node
import { run } from './run.ts';

process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
  process.exit(process.exitCode ?? 0);
});

run(process.argv.slice(2), {
  out: (text) => process.stdout.write(text),
  err: (text) => process.stderr.write(text),
}).then(
  (status) => {
    process.exitCode = status;
  },
  (error: unknown) => {
    console.error('dropwise: a fault of this program, not of the input:', error);
    process.exitCode = 1;
  },
);
