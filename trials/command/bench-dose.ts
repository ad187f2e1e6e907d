import type { Command } from 'commander';
import { doseOperation } from '../rounds/bench-operations.ts';
import { answer } from './answer.ts';
import { examples } from './examples.ts';
import { formulaFrom, namingFile } from './input-files.ts';
import type { Io } from './io.ts';
import { decimal, jsonOption, materialsOption, unusedSeedOption } from './option-values.ts';
import { short, textTable } from './text-table.ts';

interface Options {
  syrupDose: number;
  syrupPerDrink: number;
  drink: number;
  drinkDensity: number;
  drinkPercentVol: number;
  dropGrams?: number;
  materials?: string;
  json: boolean;
}

export function addDose(bench: Command, io: Io): void {
  const amount = decimal({ above: 0 });
  bench
    .command('dose')
    .description('what reaches the glass, and what the law says of it')
    .argument('<formula.json>', 'a finished formula')
    .requiredOption(
      '--syrup-dose <A>',
      'millilitres of concentrate in a litre of syrup',
      decimal({ above: 0, most: 1000 }),
    )
    .requiredOption('--syrup-per-drink <B>', 'millilitres of syrup in a drink', amount)
    .requiredOption('--drink <C>', 'millilitres of a drink as drunk', amount)
    .option('--drink-density <R>', 'g/mL of the drink at 20 °C', amount, 1)
    .option(
      '--drink-percent-vol <P>',
      'alcohol of the drink without the concentrate',
      decimal({ least: 0, most: 100 }),
      0,
    )
    .option('--drop-grams <G>', 'grams of one drop out of this bottle: weigh twenty', amount)
    .addOption(materialsOption())
    .addOption(unusedSeedOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples(
        'bench dose formula.json --syrup-dose 1.5 --syrup-per-drink 30 --drink 180',
        'bench dose formula.json --syrup-dose 1.5 --syrup-per-drink 30 --drink 180 --drink-density 1.03 --drink-percent-vol 4 --drop-grams 0.021',
        'bench dose formula.json --syrup-dose 1.5 --syrup-per-drink 30 --drink 180 --materials own.json --seed 1 --json',
      ),
    )
    .action((file: string, options: Options, command: Command) => runDose(file, options, { command, io }));
}

async function runDose(
  file: string,
  { json, materials, ...amounts }: Options,
  { command, io }: { command: Command; io: Io },
): Promise<void> {
  if (amounts.syrupPerDrink > amounts.drink)
    command.error(
      `error: --syrup-per-drink: found ${amounts.syrupPerDrink}, allowed at most the ${amounts.drink} of --drink.`,
    );
  const given = await formulaFrom(file, materials);
  answer(
    io,
    namingFile(file, () => doseOperation({ ...given, ...amounts })),
    json,
    showDose,
  );
}

function showDose({ perDrink, drink, unchecked, chain }: ReturnType<typeof doseOperation>): string {
  const { grams, drops, millilitres } = perDrink;
  const exact = grams === null ? '' : `, ${short(1000 * grams, 4)} mg`;
  const counted = drops === null ? '' : `, ${short(drops, 3)} drops`;
  const rows = drink.substances.flatMap(({ substance, mgPerKg, limits }) =>
    limits.length === 0
      ? [[substance, short(mgPerKg, 3), '', '']]
      : limits.map((limit, index) => [
          index === 0 ? substance : '',
          index === 0 ? short(mgPerKg, 3) : '',
          `${limit.limit === null ? limit.kind : `${limit.kind} ${limit.limit} ${limit.unit}`} (${limit.jurisdiction})${limit.own ? ', own figure' : limit.verified ? '' : ', not verified'}`,
          limit.exceeded === null ? 'for you to judge' : limit.exceeded ? 'EXCEEDED' : 'kept',
        ]),
  );
  const open = unchecked.map(({ material, because }) => `  ${material}: ${because}\n`);
  return [
    `A drink takes ${short(millilitres, 4)} mL of concentrate${exact}${counted}; it has ${drink.percentVol === null ? 'an unknown strength' : `${short(drink.percentVol, 3)} % by volume`}.\n`,
    textTable(
      [{ title: 'substance' }, { title: 'mg/kg', numeric: true }, { title: 'limit' }, { title: '' }],
      rows,
    ),
    `Does it stay clear? A rule of thumb, no measurement:\n${chain.map(({ says }) => `  ${says}\n`).join('')}`,
    ...(open.length === 0 ? [] : [`Not checked:\n${open.join('')}`]),
    'No legal verdict: look the sources up (--json names them) and ask who is responsible for the law where you sell.\n',
  ].join('\n');
}
