import type { Command } from 'commander';
import { WARMUP } from '../../engine/panel/observations.ts';
import { orderOperation } from '../rounds/operations.ts';
import { answer } from './answer.ts';
import { examples } from './examples.ts';
import type { Io } from './io.ts';
import { jsonOption, nameList, oneName, seedOption, wholeNumber } from './option-values.ts';
import { textTable } from './text-table.ts';

interface Options {
  assessors: number;
  mixes: string[];
  perSitting?: number;
  replicates: number;
  session?: string;
  seed: number;
  json: boolean;
}

export function addOrder(program: Command, io: Io): void {
  program
    .command('order')
    .description('blind codes and serving orders')
    .requiredOption('--assessors <A>', 'how many assessors, named P1, P2 and so on', wholeNumber(1, 1000))
    .requiredOption(
      '--mixes <m1,m2,...>',
      'the mixes to serve, `reference` and `warmup` among them',
      nameList,
    )
    .option('--per-sitting <K>', 'most cups in a sitting (default: all mixes)', wholeNumber(1, 1000))
    .option('--replicates <R>', 'how often each assessor gets each mix', wholeNumber(1, 100), 1)
    .option('--session <LABEL>', 'the name of the session', oneName)
    .addOption(seedOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples(
        'order --assessors 6 --mixes m1,m2,m3,reference --seed 48213',
        'order --assessors 6 --mixes m1,m2,m3,m4,m5,m6 --per-sitting 3 --replicates 2 --session Tuesday --seed 48213 --json',
      ),
    )
    .action((options: Options, command: Command) => runOrder(options, command, io));
}

function runOrder(options: Options, command: Command, io: Io): void {
  const { assessors, mixes, perSitting, replicates, session, seed, json } = options;
  if (mixes.every((mix) => mix === WARMUP)) command.error('error: --mixes names no mix that is analysed.');
  const left = command.getOptionValueSource('seed') === 'default';
  const result = orderOperation({
    assessors: Array.from({ length: assessors }, (_, index) => `P${index + 1}`),
    mixes,
    replicates,
    seed,
    ...(perSitting === undefined ? {} : { perSitting }),
    ...(session === undefined ? {} : { session }),
    warnings: left
      ? [
          'the seed was left at its default: anyone who runs this again knows the codes; give --seed a number of your own',
        ]
      : [],
  });
  answer(io, result, json, showOrder);
}

function showOrder({ sittings, balance }: ReturnType<typeof orderOperation>): string {
  const cups = sittings.reduce((sum, sitting) => sum + sitting.cups.length, 0);
  const rows = sittings.flatMap(({ assessor, session, cups: tray }) =>
    tray.map(({ position, code, mix }) => [assessor, session, String(position), code, mix]),
  );
  const columns = [
    { title: 'assessor' },
    { title: 'session' },
    { title: 'cup', numeric: true },
    { title: 'code', numeric: true },
    { title: 'mix' },
  ];
  return [
    `${sittings.length} sittings, ${cups} cups. Keep this list from the tasters: they see codes only.\n`,
    textTable(columns, rows),
    `No mix stands in one position more than ${balance.positionSpread} times oftener than another, none follows another more than ${balance.followSpread} times oftener.\n`,
  ].join('\n');
}
