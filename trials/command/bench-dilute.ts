import type { Command } from 'commander';
import { diluteOperation } from '../rounds/bench-operations.ts';
import { answer } from './answer.ts';
import { examples } from './examples.ts';
import type { Io } from './io.ts';
import { decimal, jsonOption, unusedSeedOption } from './option-values.ts';
import { short, textTable } from './text-table.ts';

interface Options {
  from: number;
  to: number;
  make: number;
  json: boolean;
}

export function addDilute(bench: Command, io: Io): void {
  const strength = decimal({ least: 0, most: 100 });
  bench
    .command('dilute')
    .description('spirit and water for a strength, all at 20 °C')
    .requiredOption('--from <P>', 'percent by volume of the spirit', strength)
    .requiredOption('--to <Q>', 'percent by volume wanted', strength)
    .requiredOption('--make <V>', 'millilitres wanted', decimal({ above: 0 }))
    .addOption(unusedSeedOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples(
        'bench dilute --from 96 --to 40 --make 500',
        'bench dilute --from 96 --to 40 --make 500 --seed 1 --json',
      ),
    )
    .action((options: Options, command: Command) => runDilute(options, command, io));
}

function runDilute({ from, to, make, json }: Options, command: Command, io: Io): void {
  if (to > from) command.error(`error: --to: found ${to}, allowed at most the ${from} of --from.`);
  answer(io, diluteOperation({ from, to, make }), json, (result) =>
    [
      `${short(make, 6)} mL at ${to} % by volume: ${short(result.spiritGrams, 6)} g of spirit at ${from} %, ${short(result.waterGrams, 6)} g of water.\n`,
      textTable(
        ['', 'grams', 'millilitres'].map((title, c) => ({ title, numeric: c > 0 })),
        [
          ['spirit', short(result.spiritGrams, 6), short(result.spiritMillilitres, 6)],
          ['water', short(result.waterGrams, 6), short(result.waterMillilitres, 6)],
          ['lost by mixing', '', short(result.contractionMillilitres, 4)],
        ],
      ),
    ].join('\n'),
  );
}
