import { Argument, type Command } from 'commander';
import type { RepeatedAnswers } from '../../engine/difference/beta-binomial.ts';
import { DIFFERENCE_METHODS, type DifferenceMethod } from '../../engine/difference/methods.ts';
import {
  type AskedEffect,
  detectableOperation,
  differenceOperation,
  differencePlanOperation,
  oneByOneOperation,
  preferenceOperation,
  preferencePlanOperation,
  repeatedOperation,
  similarityPlanOperation,
} from '../rounds/difference-operations.ts';
import { answer } from './answer.ts';
import { examples } from './examples.ts';
import type { Io } from './io.ts';
import {
  answerMarks,
  decimal,
  eachTaster,
  jsonOption,
  unusedSeedOption,
  wholeNumber,
} from './option-values.ts';
import { figureTable } from './text-table.ts';

interface Options {
  trials?: number;
  correct?: number;
  closeEnough?: number;
  each?: RepeatedAnswers[];
  oneByOne?: boolean[];
  first?: number;
  second?: number;
  neither?: number;
  plan?: boolean;
  dprime?: number;
  canTell?: number;
  tasters?: number;
  share?: number;
  power?: number;
  alpha?: number;
  beta?: number;
  json: boolean;
}
type Named = Exclude<keyof Options, 'json' | 'plan'>;
type Method = DifferenceMethod | 'preference';

/** One way to ask: what has to be given beside METHOD, what may be, and what is printed. */
interface Way {
  needs: readonly Named[];
  may?: readonly Named[];
  run: (method: DifferenceMethod, given: Required<Options>) => { says: string; warnings: string[] };
  /** Figures of the table: title and key. */
  shows: readonly (readonly [title: string, key: string])[];
}

const READING = [
  ['p', 'p'],
  ['can tell', 'proportionAbove'],
  ['95 % interval', 'interval'],
  ["d'", 'dPrime'],
  ['standard error', 'dPrimeStandardError'],
  ['needed', 'needed'],
] as const;
const PLAN = [
  ['tastings', 'trials'],
  ['first that reaches it', 'firstTrials'],
  ['correct needed', 'needed'],
  ['power', 'power'],
] as const;

const WAYS: Record<string, Way> = {
  read: {
    needs: ['trials', 'correct'],
    may: ['closeEnough'],
    run: (method, { trials, correct, closeEnough }) =>
      differenceOperation({ method, trials, correct, closeEnough }),
    shows: READING,
  },
  repeated: { needs: ['each'], run: (method, { each }) => repeatedOperation(method, each), shows: READING },
  oneByOne: {
    needs: ['oneByOne'],
    may: ['dprime', 'canTell', 'alpha', 'beta'],
    run: (method, given) =>
      oneByOneOperation(method, given.oneByOne, {
        ...effectOf(given),
        ...(given.alpha === undefined ? {} : { alpha: given.alpha }),
        ...(given.beta === undefined ? {} : { beta: given.beta }),
      }),
    shows: [['decision', 'decision']],
  },
  preferred: {
    needs: ['first', 'second'],
    may: ['neither'],
    run: (_, { first, second, neither = 0 }) => preferenceOperation({ first, second, neither }),
    shows: [
      ['p', 'p'],
      ['prefer the first', 'share'],
      ['95 % interval', 'interval'],
      ['needed', 'needed'],
    ],
  },
  plan: {
    needs: ['power', 'alpha'],
    may: ['dprime', 'canTell'],
    run: (method, given) =>
      differencePlanOperation({ method, power: given.power, alpha: given.alpha, ...effectOf(given) }),
    shows: PLAN,
  },
  planTasters: {
    needs: ['tasters', 'power', 'alpha'],
    run: (method, { tasters, power, alpha }) => detectableOperation({ method, tasters, power, alpha }),
    shows: [
      ['can tell', 'proportionAbove'],
      ["d'", 'dPrime'],
      ['correct needed', 'needed'],
    ],
  },
  planCloseEnough: {
    needs: ['closeEnough', 'power', 'alpha'],
    run: (method, { closeEnough, power, alpha }) =>
      similarityPlanOperation({ method, closeEnough, power, alpha }),
    shows: [
      ['tastings', 'trials'],
      ['first that reaches it', 'firstTrials'],
      ['correct at most', 'most'],
      ['power', 'power'],
    ],
  },
  planPreferred: {
    needs: ['share', 'power', 'alpha'],
    run: (_, { share, power, alpha }) => preferencePlanOperation({ share, power, alpha }),
    shows: PLAN,
  },
};

const share = decimal({ above: 0, below: 1 });
const ALWAYS: readonly string[] = ['json', 'plan', 'seed'];

export function addDifference(program: Command, io: Io): void {
  program
    .command('difference')
    .description('can tasters tell two samples apart, or (--plan) how many tastings it takes to show it')
    .addArgument(
      new Argument('<METHOD>', 'how the samples are served').choices([...DIFFERENCE_METHODS, 'preference']),
    )
    .option('--trials <N>', 'tastings held, each by another taster', wholeNumber(1))
    .option('--correct <C>', 'how many were right', wholeNumber(0))
    .option('--close-enough <SHARE>', 'share that may be able to tell, agreed beforehand', share)
    .option('--each <3/4,2/4,…>', 'right of how many, for each taster who answered several times', eachTaster)
    .option(
      '--one-by-one <1101…>',
      'answers in turn, 1 right and 0 wrong; stops as soon as they tell',
      answerMarks,
    )
    .option('--first <N>', 'preference: how many prefer the first', wholeNumber(0))
    .option('--second <N>', 'preference: how many prefer the second', wholeNumber(0))
    .option('--neither <N>', 'preference: how many prefer neither', wholeNumber(0))
    .option('--plan', 'plan a test instead of reading one')
    .option(
      '--dprime <D>',
      'the difference worth finding, in standard deviations of a perception',
      decimal({ above: 0, most: 20 }),
    )
    .option('--can-tell <SHARE>', 'the same as the share of tasters that can tell', share)
    .option(
      '--tasters <N>',
      'with --plan: what so many can find, instead of how many it takes',
      wholeNumber(1),
    )
    .option('--share <SHARE>', 'with --plan: how many of those who choose prefer the first', share)
    .option('--power <P>', 'with --plan: the chance of finding it', share)
    .option('--alpha <A>', 'the chance of finding one where there is none', share)
    .option('--beta <B>', 'with --one-by-one: the chance of missing it', share)
    .addOption(unusedSeedOption())
    .addOption(jsonOption())
    .addHelpText(
      'after',
      examples(
        'difference triangle --trials 30 --correct 16 --close-enough 0.3',
        'difference tetrad --plan --dprime 1 --power 0.8 --alpha 0.05',
        'difference triangle --plan --tasters 6 --power 0.8 --alpha 0.05',
        'difference duo-trio --one-by-one 1101111 --can-tell 0.5 --alpha 0.05 --beta 0.1',
        'difference triangle --each 3/4,2/4,4/4,1/4',
        'difference preference --first 18 --second 9 --neither 3',
        'difference preference --plan --share 0.65 --power 0.8 --alpha 0.05',
        'difference triangle --trials 30 --correct 16 --seed 1 --json',
      ),
    )
    .action((method: Method, options: Options, command: Command) => runWay(method, options, { command, io }));
}

function runWay(method: Method, options: Options, { command, io }: { command: Command; io: Io }): void {
  const { needs, may = [], run, shows } = WAYS[wayOf(method, options)]!;
  const spelled = (name: Named) => `--${name.replace(/[A-Z]/g, (sign) => `-${sign.toLowerCase()}`)}`;
  const stray = (Object.keys(options) as (keyof Options)[]).find(
    (name): name is Named => !ALWAYS.includes(name) && ![...needs, ...may].includes(name as Named),
  );
  if (stray !== undefined)
    command.error(
      `error: ${spelled(stray)} ${strayWords(stray, options)} (${method}: ${needs.map(spelled).join(', ')}).`,
    );
  const missing = needs.find((name) => options[name] === undefined);
  if (missing !== undefined) command.error(`error: required option '${spelled(missing)}' not specified`);
  refuseSense(options, may, command);
  const found = run(method as DifferenceMethod, options as Required<Options>);
  answer(io, found, options.json, (result) => showFigures(result as unknown as Shown, shows));
}

function wayOf(method: Method, options: Options): string {
  if (method === 'preference') return options.plan ? 'planPreferred' : 'preferred';
  if (options.plan) {
    if (options.tasters !== undefined) return 'planTasters';
    return options.closeEnough === undefined ? 'plan' : 'planCloseEnough';
  }
  if (options.each) return 'repeated';
  return options.oneByOne ? 'oneByOne' : 'read';
}

function strayWords(name: Named, { plan }: Options): string {
  const planned: readonly Named[] = ['dprime', 'canTell', 'power', 'alpha', 'tasters', 'share'];
  if (plan) return 'does not go with --plan asked in this way';
  return planned.includes(name) ? 'goes with --plan only' : 'does not go with what else was given';
}

/** What each option by itself allows, but not together. */
function refuseSense(options: Options, may: readonly Named[], command: Command): void {
  const { trials, correct, power, alpha, dprime, canTell } = options;
  if (trials !== undefined && correct !== undefined && correct > trials)
    command.error(`error: --correct: found ${correct}, allowed at most the ${trials} of --trials.`);
  if (power !== undefined && alpha !== undefined && power <= alpha)
    command.error(`error: --power: found ${power}, allowed more than --alpha (${alpha}).`);
  if (!may.includes('dprime')) return;
  if (dprime === undefined && canTell === undefined)
    command.error("error: required option '--dprime' not specified");
  if (dprime !== undefined && canTell !== undefined)
    command.error('error: --can-tell does not go with --dprime: both say how large a difference.');
}

function effectOf({ dprime, canTell }: Options): AskedEffect {
  return dprime === undefined ? { proportionAbove: canTell! } : { dPrime: dprime };
}

type Shown = { says: string; similarity?: { says: string } } & Record<string, unknown>;

function showFigures(result: Shown, shows: Way['shows']): string {
  const more = result.similarity ? [`Close enough? ${result.similarity.says}\n`] : [];
  const cells = shows.map(([title, key]) => [title, result[key]] as const);
  return [`${result.says}\n`, ...more, figureTable(cells)].join('\n');
}
