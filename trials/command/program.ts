import { Command } from 'commander';
import { VERSION } from '../rounds/version.ts';
import { addAside } from './aside.ts';
import { addBench } from './bench.ts';
import { addData } from './data.ts';
import { addDifference } from './difference.ts';
import { addFit } from './fit.ts';
import type { Io } from './io.ts';
import { addNext } from './next.ts';
import { addOpen } from './open.ts';
import { addOrder } from './order.ts';
import { addPanel } from './panel.ts';
import { addPlan } from './plan.ts';
import { addPredict } from './predict.ts';
import { addThreshold } from './threshold.ts';

/** The whole command. `exit` is told the status of a workbench that was opened and closed again. */
export function makeProgram(io: Io, exit: (status: number) => void): Command {
  const program = new Command('dropwise')
    .description('Plan, taste blind and read mixes of a few ingredients, until the ratio is right.')
    .version(VERSION, '--version', 'the version')
    .helpOption('--help', 'what can be said')
    .exitOverride()
    .configureOutput({ writeOut: (text) => io.out(text), writeErr: (text) => io.err(text) })
    .showHelpAfterError('(dropwise COMMAND --help says what is allowed)');
  for (const add of [
    addPlan,
    addOrder,
    addPanel,
    addFit,
    addPredict,
    addNext,
    addDifference,
    addAside,
    addThreshold,
    addBench,
  ])
    add(program, io);
  addOpen(program, exit);
  addData(program, io);
  const groups = program.commands.filter(({ commands }) => commands.length > 0);
  for (const group of [program, ...groups])
    group.helpCommand('help [command]', 'what can be said to a command');
  program.addHelpText(
    'after',
    '\nExit status: 0 done, 1 the input is wrong, 2 the command line is wrong.\nExample: dropwise plan brief.json --mixes 12 --json',
  );
  return program;
}
