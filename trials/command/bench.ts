import type { Command } from 'commander';
import { addDilute } from './bench-dilute.ts';
import { addDose } from './bench-dose.ts';
import { addScale } from './bench-scale.ts';
import { addStrength } from './bench-strength.ts';
import { addWeigh } from './bench-weigh.ts';
import { examples } from './examples.ts';
import type { Io } from './io.ts';

export function addBench(program: Command, io: Io): void {
  const bench = program
    .command('bench')
    .description('spirit, strength, weighing, dose and size of a formula')
    .addHelpText('after', examples('bench dilute --from 96 --to 40 --make 500'));
  for (const add of [addDilute, addStrength, addWeigh, addDose, addScale]) add(bench, io);
}
