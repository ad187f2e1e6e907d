import { CommanderError } from 'commander';
import { EngineError } from '../../engine/errors.ts';
import { Refusal } from '../rounds/refusal.ts';
import { InputFaults, plainText } from '../schema/faults.ts';
import { StoreError } from '../store/store-error.ts';
import type { Io } from './io.ts';
import { makeProgram } from './program.ts';

/**
 * Runs one command line.
 *
 * @param args what stands after `dropwise`
 * @param io where results and messages go
 * @returns 0 done, 1 the input is wrong, 2 the command line is wrong
 */
export async function run(args: readonly string[], io: Io): Promise<number> {
  let status = 0;
  try {
    const program = makeProgram(io, (code) => {
      status = code;
    });
    await program.parseAsync(args, { from: 'user' });
    return status;
  } catch (error) {
    return explain(error, io);
  }
}

/** Arguments of the engine that come straight from the command line. */
const OPTIONS = ['model', 'df', 'criterion', 'replicated', 'for'];

function explain(error: unknown, io: Io): number {
  if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : 2;
  if (error instanceof EngineError && OPTIONS.includes(error.argument)) {
    io.err(`error: --${plainText(error.message)}\n`);
    return 2;
  }
  const lines = wordsOf(error);
  if (lines === null) throw error;
  for (const line of lines) io.err(`dropwise: ${line}\n`);
  return 1;
}

function wordsOf(error: unknown): string[] | null {
  if (error instanceof InputFaults) return error.faults.map(({ message }) => message);
  if (error instanceof Refusal)
    return error.faults.length > 0 ? error.faults.map(({ message }) => message) : [plainText(error.message)];
  if (error instanceof EngineError || error instanceof StoreError) return [plainText(error.message)];
  return null;
}
