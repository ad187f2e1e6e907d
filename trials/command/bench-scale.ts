import { type Command, InvalidArgumentError } from 'commander';
import { parseNumber } from '../files/number-text.ts';
import { scaleOperation } from '../rounds/bench-operations.ts';
import { inCurrency, moneyHead } from '../schema/money.ts';
import { answer } from './answer.ts';
import { examples } from './examples.ts';
import { formulaFrom, namingFile } from './input-files.ts';
import type { Io } from './io.ts';
import { decimal, jsonOption, materialsOption, unusedSeedOption } from './option-values.ts';
import { short, textTable } from './text-table.ts';

type Amount = { grams: number } | { millilitres: number };

interface Options {
  to: Amount;
  readability?: number;
  loss?: number;
  materials?: string;
  json: boolean;
}

export function addScale(bench: Command, io: Io): void {
  bench
    .command('scale')
    .description('the same formula in another size')
    .argument('<formula.json>', 'a finished formula')
    .requiredOption('--to <AMOUNT>', 'how much: 250g, 5kg, 750mL, 2L', amount)
    .option('--readability <D>', 'round to what this balance shows, grams', decimal({ above: 0 }))
    .option(
      '--loss <L>',
      'share that stays in vessels and filters, so that more is made',
      decimal({ least: 0, below: 1 }),
    )
    .addOption(materialsOption())
    .addOption(unusedSeedOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples(
        'bench scale formula.json --to 5kg',
        'bench scale formula.json --to 2L --readability 0.1 --loss 0.03 --materials own.json --seed 1 --json',
      ),
    )
    .action(async (file: string, { json, materials, ...size }: Options) => {
      const given = await formulaFrom(file, materials);
      answer(
        io,
        namingFile(file, () => scaleOperation({ ...given, ...size })),
        json,
        showScaled,
      );
    });
}

const UNITS: Readonly<Record<string, (value: number) => Amount>> = {
  mg: (value) => ({ grams: value / 1000 }),
  g: (value) => ({ grams: value }),
  kg: (value) => ({ grams: value * 1000 }),
  ml: (value) => ({ millilitres: value }),
  cl: (value) => ({ millilitres: value * 10 }),
  l: (value) => ({ millilitres: value * 1000 }),
};

/** `5kg`, `2L`, `0.5 l`: a number above 0 and a unit of mass or volume. */
function amount(text: string): Amount {
  const parts = /^\s*(\S*?)\s*([A-Za-z]+)\s*$/.exec(text);
  const value = parseNumber(parts?.[1] ?? '', false);
  const unit = parts?.[2]?.toLowerCase() ?? '';
  if (value === null || value <= 0 || !Object.hasOwn(UNITS, unit))
    throw new InvalidArgumentError('Allowed: a number above 0 with mg, g, kg, mL, cL or L.');
  return UNITS[unit]!(value);
}

function showScaled({
  formula,
  lines,
  grams,
  millilitres,
  cost,
  currency,
}: ReturnType<typeof scaleOperation>): string {
  const rows = lines.map((line) => [
    line.material,
    short(line.grams, 6),
    short(line.millilitres, 5),
    short(line.cost, 5),
  ]);
  const titles = ['line', 'grams', 'millilitres', moneyHead(currency, 'cost')];
  const volume = millilitres === null ? 'volume not known' : `${short(millilitres, 6)} mL`;
  return [
    `${formula}: ${short(grams, 6)} g, ${volume}, ${cost === null ? 'cost not known' : `cost ${inCurrency(short(cost, 5), currency)}`}.\n`,
    textTable(
      titles.map((title, c) => ({ title, numeric: c > 0 })),
      rows,
    ),
  ].join('\n');
}
