import type { Command } from 'commander';
import { readLadder } from '../files/read-ladder.ts';
import { thresholdOperation } from '../rounds/threshold-operation.ts';
import { answer } from './answer.ts';
import { briefFrom, textOf } from './input-files.ts';
import type { Io } from './io.ts';
import { jsonOption } from './option-values.ts';
import { short, textTable } from './text-table.ts';

interface Options {
  brief?: string;
  component?: string;
  json: boolean;
}

export function addThreshold(program: Command, io: Io): void {
  program
    .command('threshold')
    .description('from which dose on tasters notice something, and the bound that follows for a brief')
    .argument(
      '<ladder.csv>',
      'assessor, concentration (mg per litre of drink), correct (1 or 0): the odd cup of three, weakest first',
    )
    .option('--brief <brief.json>', 'the brief that a bound is wanted for, with --component')
    .option('--component <id>', 'the component of the brief that the ladder was made of')
    .addOption(jsonOption())
    .addHelpText(
      'after',
      '\nExample: dropwise threshold ladder.csv --brief brief.json --component pepper\nExample: dropwise threshold ladder.csv --brief brief.json --component pepper --json',
    )
    .action((file: string, options: Options, command: Command) => runThreshold(file, options, command, io));
}

async function runThreshold(file: string, options: Options, command: Command, io: Io): Promise<void> {
  const { brief: briefFile, component, json } = options;
  if ((briefFile === undefined) !== (component === undefined))
    command.error('error: --brief and --component go together.');
  const { concentrations, answers, warnings } = readLadder(await textOf(file), file);
  const read = briefFile === undefined ? undefined : await briefFrom(briefFile);
  const bound = read && { brief: read.brief, component: component! };
  const all = [...warnings, ...(read?.warnings ?? [])];
  answer(io, thresholdOperation({ concentrations, answers, bound, warnings: all }), json, showThreshold);
}

function showThreshold(result: ReturnType<typeof thresholdOperation>): string {
  const { individual, threshold, logDeviation, bound } = result;
  const spread =
    logDeviation === null
      ? 'one taster alone'
      : `two tasters in three within a factor of ${short(10 ** logDeviation, 3)}`;
  return [
    textTable(
      [{ title: 'taster' }, { title: 'threshold (mg/L)', numeric: true }],
      individual.map((one) => [one.assessor, short(one.threshold)]),
    ),
    `Noticed from about ${short(threshold)} mg in a litre of drink on (${spread}).`,
    ...(bound === null ? [] : [bound.says]),
    '',
  ].join('\n');
}
