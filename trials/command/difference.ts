import { Argument, type Command } from 'commander';
import { DIFFERENCE_METHODS, type DifferenceMethod } from '../../engine/difference/methods.ts';
import { differenceOperation, differencePlanOperation } from '../rounds/difference-operations.ts';
import { answer } from './answer.ts';
import type { Io } from './io.ts';
import { decimal, jsonOption, unusedSeedOption, wholeNumber } from './option-values.ts';
import { short, shortInterval, shortP, textTable } from './text-table.ts';

interface Options {
  trials?: number;
  correct?: number;
  plan?: boolean;
  dprime?: number;
  power?: number;
  alpha?: number;
  json: boolean;
}

const share = decimal({ above: 0, below: 1 });

export function addDifference(program: Command, io: Io): void {
  program
    .command('difference')
    .description('can tasters tell two samples apart, or (--plan) how many tastings it takes to show it')
    .addArgument(new Argument('<METHOD>', 'how the samples are served').choices(DIFFERENCE_METHODS))
    .option('--trials <N>', 'tastings held, each by another taster', wholeNumber(1))
    .option('--correct <C>', 'how many were right', wholeNumber(0))
    .option('--plan', 'plan a test instead of reading one')
    .option(
      '--dprime <D>',
      'with --plan: the difference worth finding, in standard deviations of a perception',
      decimal({ above: 0, most: 20 }),
    )
    .option('--power <P>', 'with --plan: the chance of finding it', share)
    .option('--alpha <A>', 'with --plan: the chance of finding one where there is none', share)
    .addOption(unusedSeedOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      '\nExample: dropwise difference triangle --trials 30 --correct 16\nExample: dropwise difference tetrad --plan --dprime 1 --power 0.8 --alpha 0.05',
    )
    .action((method: DifferenceMethod, options: Options, command: Command) =>
      options.plan === true
        ? runPlan(method, options, { command, io })
        : runReading(method, options, { command, io }),
    );
}

interface Around {
  command: Command;
  io: Io;
}

function runReading(method: DifferenceMethod, options: Options, { command, io }: Around): void {
  refuseGiven(options, ['dprime', 'power', 'alpha'], 'goes with --plan only', command);
  const trials = given(options, 'trials', command);
  const correct = given(options, 'correct', command);
  if (correct > trials)
    command.error(`error: --correct: found ${correct}, allowed at most the ${trials} of --trials.`);
  answer(io, differenceOperation({ method, trials, correct }), options.json, (reading) =>
    [
      `${reading.says}\n`,
      textTable(
        [
          { title: 'p' },
          { title: 'can tell' },
          { title: '95 % interval' },
          { title: "d'" },
          { title: 'standard error' },
          { title: 'needed' },
        ],
        [
          [
            shortP(reading.p),
            short(reading.proportionAbove, 3),
            shortInterval(reading.interval, 3),
            short(reading.dPrime, 3),
            short(reading.dPrimeStandardError, 3),
            short(reading.needed),
          ],
        ],
      ),
    ].join('\n'),
  );
}

function runPlan(method: DifferenceMethod, options: Options, { command, io }: Around): void {
  refuseGiven(options, ['trials', 'correct'], 'does not go with --plan', command);
  const dPrime = given(options, 'dprime', command);
  const power = given(options, 'power', command);
  const alpha = given(options, 'alpha', command);
  if (power <= alpha) command.error(`error: --power: found ${power}, allowed more than --alpha (${alpha}).`);
  answer(io, differencePlanOperation({ method, dPrime, power, alpha }), options.json, (plan) =>
    [
      `${plan.says}\n`,
      textTable(
        [
          { title: 'tastings' },
          { title: 'first that reaches it' },
          { title: 'correct needed' },
          { title: 'power' },
        ],
        [[short(plan.trials, 7), short(plan.firstTrials, 7), short(plan.needed, 7), short(plan.power)]],
      ),
    ].join('\n'),
  );
}

function given(
  options: Options,
  name: 'trials' | 'correct' | 'dprime' | 'power' | 'alpha',
  command: Command,
): number {
  const value = options[name];
  return value === undefined ? command.error(`error: required option '--${name}' not specified`) : value;
}

function refuseGiven(
  options: Options,
  names: readonly (keyof Options)[],
  says: string,
  command: Command,
): void {
  const stray = names.find((name) => options[name] !== undefined);
  if (stray !== undefined) command.error(`error: --${stray} ${says}.`);
}
