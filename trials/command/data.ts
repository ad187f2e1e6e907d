import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Command } from 'commander';
import type { Context } from '../rounds/context.ts';
import { exportTrial, importTrial } from '../rounds/transfer.ts';
import { trialTables } from '../rounds/trial-tables.ts';
import { describeFault, InputFaults } from '../schema/faults.ts';
import { dataFolder } from '../store/data-folder.ts';
import { openStore, openStoreToRead } from '../store/store.ts';
import { answer, jsonText } from './answer.ts';
import { examples } from './examples.ts';
import { textOf } from './input-files.ts';
import type { Io } from './io.ts';
import { jsonOption } from './option-values.ts';

interface Options {
  data?: string;
  json: boolean;
}

export function addData(program: Command, io: Io): void {
  dataCommand(program, 'backup', 'a copy of all data in one file')
    .argument('<FILE>', 'the file to write; one that is there is left as it is')
    .addHelpText(
      'after',
      examples('backup before-summer.sqlite', 'backup before-summer.sqlite --data my-trials --json'),
    )
    .action((file: string, options: Options) => backup(file, options, io));
  dataCommand(
    program,
    'restore',
    'put such a copy in place of the data, which is itself kept as a copy first',
  )
    .argument('<FILE>', 'a file that `backup` wrote')
    .addHelpText(
      'after',
      examples('restore before-summer.sqlite', 'restore before-summer.sqlite --data my-trials --json'),
    )
    .action((file: string, options: Options) => restore(file, options, io));
  dataCommand(program, 'export', 'one whole trial as a JSON document on standard output')
    .argument('<TRIAL>', 'the id of the trial, as its address shows it')
    .option(
      '--csv <DIR>',
      'instead: brief.json, mixes.csv, scores.csv and answers.csv, written into a new folder',
    )
    .addHelpText(
      'after',
      examples(
        'export demo > demo-trial.json',
        'export demo --csv demo-tables',
        'export demo --data my-trials --json > demo-trial.json',
      ),
    )
    .action((trial: string, options: ExportOptions) =>
      withData(options, 'to read', (context) => {
        if (options.csv !== undefined) exportFiles(context, trial, { ...options, csv: options.csv }, io);
        else io.out(`${jsonText(exportTrial(context, trial))}\n`);
      }),
    );
  dataCommand(program, 'import', 'a trial that `export` wrote')
    .argument('<FILE>', 'the exported document')
    .addHelpText(
      'after',
      examples('import demo-trial.json', 'import demo-trial.json --data my-trials --json'),
    )
    .action((file: string, options: Options) => importFrom(file, options, io));
}

function dataCommand(program: Command, name: string, says: string): Command {
  return program
    .command(name)
    .description(says)
    .option('--data <DIR>', 'the folder that holds the data (default: DROPWISE_DATA, else the usual place)')
    .addOption(jsonOption());
}

interface ExportOptions extends Options {
  csv?: string;
}

/** Files are written only into a folder that is not there yet, so that nothing is overwritten. */
function exportFiles(
  { store }: Context,
  trial: string,
  { csv: folder, json }: Options & { csv: string },
  io: Io,
): void {
  const files = trialTables(store, trial);
  if (existsSync(folder))
    throw new InputFaults([describeFault(folder, 'something that is there', 'a folder to make')]);
  mkdirSync(folder, { recursive: true });
  for (const { name, text } of files) writeFileSync(join(folder, name), text);
  const names = files.map(({ name }) => name);
  answer(io, { folder, files: names }, json, () => `${names.join(', ')} are written to ${folder}.\n`);
}

async function backup(file: string, options: Options, io: Io): Promise<void> {
  await withData(options, 'to read', async ({ store }) => {
    await store.copies.copyTo(resolve(file));
    answer(io, { file }, options.json, () => `All data is copied to ${file}.\n`);
  });
}

async function restore(file: string, options: Options, io: Io): Promise<void> {
  refuseMissing(file);
  await withData(options, 'to write', async ({ store, now }) => {
    const kept = await store.copies.putBack(resolve(file), now());
    const says = `The data is that of ${file} now; what was there before is kept as ${kept.name}.\n`;
    answer(io, { file, kept: join(store.copies.folder, kept.name) }, options.json, () => says);
  });
}

async function importFrom(file: string, options: Options, io: Io): Promise<void> {
  const document = parsed(await textOf(file), file);
  await withData(options, 'to write', (context) => {
    const { trial, name } = importTrial(context, document);
    answer(io, { trial, name }, options.json, () => `${name} is there now, as trial ${trial}.\n`);
  });
}

function parsed(text: string, file: string): unknown {
  try {
    return JSON.parse(text);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new InputFaults([describeFault(file, `no JSON (${why})`, 'a trial as `export` wrote it')]);
  }
}

/** Opens the data, does something with it and closes it again; reading goes on beside an open workbench. */
async function withData(
  { data }: Options,
  way: 'to read' | 'to write',
  use: (context: Context) => unknown,
): Promise<void> {
  const folder = dataFolder(data);
  const store = way === 'to read' ? openStoreToRead(folder) : openStore(folder);
  try {
    await use({ store, now: () => new Date(), who: 'command' });
  } finally {
    store.close();
  }
}

function refuseMissing(file: string): void {
  if (!existsSync(file)) throw new InputFaults([describeFault(file, 'no such file', 'a file that is there')]);
}
