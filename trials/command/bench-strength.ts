import type { Command } from 'commander';
import { strengthOperation } from '../rounds/bench-operations.ts';
import { answer } from './answer.ts';
import { examples } from './examples.ts';
import { formulaFrom, namingFile } from './input-files.ts';
import type { Io } from './io.ts';
import { jsonOption, materialsOption, unusedSeedOption } from './option-values.ts';
import { short, textTable } from './text-table.ts';

export function addStrength(bench: Command, io: Io): void {
  bench
    .command('strength')
    .description('what a formula is, by pure substance')
    .argument('<formula.json>', 'a finished formula')
    .addOption(materialsOption())
    .addOption(unusedSeedOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples(
        'bench strength formula.json',
        'bench strength formula.json --materials own.json --seed 1 --json',
      ),
    )
    .action(async (file: string, { json, materials }: { json: boolean; materials?: string }) => {
      const given = await formulaFrom(file, materials);
      answer(
        io,
        namingFile(file, () => strengthOperation(given)),
        json,
        showStrength,
      );
    });
}

function showStrength(result: ReturnType<typeof strengthOperation>): string {
  const { formula, grams, millilitres, density, percentVol, substances } = result;
  const rows = substances.map(({ substance, grams: mass, share }) => [
    substance,
    short(mass, 5),
    short(100 * share, 4),
  ]);
  const columns = [
    { title: 'substance' },
    { title: 'grams', numeric: true },
    { title: '% by mass', numeric: true },
  ];
  return [
    `${formula}: ${short(grams, 6)} g, ${known(millilitres, 'mL', 'volume')}, ${known(density, 'g/mL', 'density')}, ${known(percentVol, '% by volume', 'strength')}.\n`,
    textTable(columns, rows),
  ].join('\n');
}

function known(value: number | null, unit: string, name: string): string {
  return value === null ? `${name} not known` : `${short(value, 5)} ${unit}`;
}
