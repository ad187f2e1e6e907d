import type { Command } from 'commander';
import { weighOperation } from '../rounds/bench-operations.ts';
import type { Formula } from '../schema/formula.ts';
import { answer } from './answer.ts';
import { examples } from './examples.ts';
import { formulaFrom, namingFile } from './input-files.ts';
import type { Io } from './io.ts';
import { decimal, jsonOption, materialsOption, unusedSeedOption } from './option-values.ts';
import { decimalsOf, fixed, short, textTable } from './text-table.ts';

interface Options {
  readability: number;
  repeatability?: number;
  tolerance: number;
  materials?: string;
  json: boolean;
}

export function addWeigh(bench: Command, io: Io): void {
  bench
    .command('weigh')
    .description('a weighing plan in pouring order, with stocks where a mass is too small')
    .argument('<formula.json>', 'a finished formula')
    .requiredOption(
      '--readability <D>',
      'the smallest step that the balance shows, grams',
      decimal({ above: 0 }),
    )
    .option(
      '--repeatability <S>',
      'standard deviation of one weighing, grams, from ten of them',
      decimal({ above: 0 }),
    )
    .option(
      '--tolerance <T>',
      'how well each mass should be known, as a fraction',
      decimal({ above: 0, below: 1 }),
      0.01,
    )
    .addOption(materialsOption())
    .addOption(unusedSeedOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples(
        'bench weigh formula.json --readability 0.01',
        'bench weigh formula.json --readability 0.01 --repeatability 0.008 --tolerance 0.02 --materials own.json --seed 1 --json',
      ),
    )
    .action((file: string, options: Options) => runWeigh(file, options, io));
}

async function runWeigh(file: string, options: Options, io: Io): Promise<void> {
  const { readability, repeatability, tolerance, json } = options;
  const given = await formulaFrom(file, options.materials);
  const result = namingFile(file, () =>
    weighOperation({ ...given, balance: { readability, repeatability }, tolerance }),
  );
  const names = given.formula.lines.map(lineName);
  answer(io, result, json, (document) => showWeighing(document, names, readability));
}

/** A line's name with what tells it from another of the same material. */
function lineName({ material, strength, solvent }: Formula['lines'][number]): string {
  if (strength === 100) return material;
  return `${material}, ${short(strength, 6)} %${solvent === undefined ? '' : ` in ${solvent}`}`;
}

function showWeighing(
  result: ReturnType<typeof weighOperation>,
  names: readonly string[],
  readability: number,
): string {
  const { formula, steps, stocks } = result;
  const decimals = decimalsOf(readability);
  const rows = steps.map((step) => [
    step.strength === 100 ? names[step.line]! : `${names[step.line]!}, stock of ${step.strength} %`,
    fixed(step.grams, decimals),
    fixed(step.showTotal, decimals),
    `${short(100 * step.relativeError, 2)} %`,
  ]);
  const titles = ['pour', 'grams', 'balance shows', 'known to'];
  const made = stocks.map(({ material, strength, solvent, grams }) => [
    material,
    `${strength} %`,
    solvent,
    fixed(grams, decimals),
  ]);
  return [
    `${formula}: pour in this order on one vessel, tared once.\n`,
    textTable(
      titles.map((title, c) => ({ title, numeric: c > 0 })),
      rows,
    ),
    ...(made.length === 0
      ? []
      : [
          'Stocks, since the balance knows these masses too badly:\n',
          textTable(
            ['stock of', 'strength', 'in', 'grams'].map((title, c) => ({ title, numeric: c === 3 })),
            made,
          ),
        ]),
  ].join('\n');
}
