import type { Command } from 'commander';
import { EngineError } from '../../engine/errors.ts';
import { readPairsTable, readPicksTable, readRanks, readWordsTable } from '../files/read-asides.ts';
import {
  pairsOperation,
  picksOperation,
  ranksOperation,
  wordsOperation,
} from '../rounds/aside-operations.ts';
import { InputFaults, makeFault } from '../schema/faults.ts';
import { answer } from './answer.ts';
import { showPairs, showPicks, showRanking, showWords } from './aside-text.ts';
import { textOf } from './input-files.ts';
import type { Io } from './io.ts';
import { jsonOption, nameList, unusedSeedOption } from './option-values.ts';

interface Options {
  rising?: string[];
  offered?: string[];
  json: boolean;
}

/** Orders, choices and words that were noted outside a trial's ballots. */
export function addAside(program: Command, io: Io): void {
  const aside = program
    .command('aside')
    .description('orders, choices between two, picks and words, from a table of their own')
    .addHelpText('after', '\nExample: dropwise aside ranks ranks.csv --rising weak,middle,strong');
  add(aside, 'ranks', 'cups put in order by each taster')
    .option('--rising <m1,m2,…>', 'is it shown that places rise in this order?', nameList)
    .addHelpText(
      'after',
      '\nranks.csv: assessor, mix, place (1 = least), optionally session\nExample: dropwise aside ranks ranks.csv --rising weak,middle,strong\nExample: dropwise aside ranks ranks.csv --seed 1 --json',
    )
    .action(async (file: string, { rising, json }: Options) => {
      const { rows, warnings } = readRanks(await textOf(file), file);
      answer(
        io,
        refusing(file, () => ranksOperation({ answers: rows, rising, warnings })),
        json,
        showRanking,
      );
    });
  add(aside, 'pairs', 'one of two cups chosen')
    .addHelpText(
      'after',
      '\npairs.csv: first, second, firstChosen, secondChosen, optionally neither\nExample: dropwise aside pairs pairs.csv\nExample: dropwise aside pairs pairs.csv --seed 1 --json',
    )
    .action(async (file: string, { json }: Options) => {
      const { rows, warnings } = readPairsTable(await textOf(file), file);
      answer(io, pairsOperation({ counts: rows, warnings }), json, showPairs);
    });
  add(aside, 'picks', 'the one cup that each taster wants')
    .addHelpText(
      'after',
      '\npicks.csv: mix, count\nExample: dropwise aside picks picks.csv\nExample: dropwise aside picks picks.csv --seed 1 --json',
    )
    .action(async (file: string, { json }: Options) => {
      const { rows, warnings } = readPicksTable(await textOf(file), file);
      answer(
        io,
        refusing(file, () => picksOperation({ counts: rows, warnings })),
        json,
        showPicks,
      );
    });
  add(aside, 'words', 'words for each cup')
    .option(
      '--offered <w1,w2,…>',
      'words that stood on the ballot, counted also where nobody used them',
      nameList,
    )
    .addHelpText(
      'after',
      '\nwords.csv: assessor, mix, words (parted by commas)\nExample: dropwise aside words words.csv --offered soap,pith\nExample: dropwise aside words words.csv --seed 1 --json',
    )
    .action(async (file: string, { offered, json }: Options) => {
      const { rows, warnings } = readWordsTable(await textOf(file), file);
      answer(io, wordsOperation({ answers: rows, words: offered, warnings }), json, showWords);
    });
}

function add(aside: Command, name: string, says: string): Command {
  return aside
    .command(name)
    .description(says)
    .argument(`<${name}.csv>`, 'the table')
    .addOption(unusedSeedOption())
    .addOption(jsonOption());
}

/** What the engine refuses in a table or an option is a fault of that input. */
function refusing<T>(file: string, read: () => T): T {
  try {
    return read();
  } catch (error) {
    if (!(error instanceof EngineError)) throw error;
    const where = error.argument === 'rising' ? `--rising, ${file}` : file;
    throw new InputFaults([makeFault(where, error.found, error.allowed)]);
  }
}
