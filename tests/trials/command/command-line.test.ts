import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { dropwise, Folder } from '../support/command-line.ts';
import { TINY_BRIEF, TINY_MIXES, TINY_RATIOS, TINY_SCORES } from '../support/tiny-trial.ts';

let folder: Folder;
let names: Record<string, string>;
beforeAll(() => {
  folder = new Folder();
  names = {
    BRIEF: folder.write('brief.json', TINY_BRIEF),
    MIXES: folder.write('mixes.csv', TINY_MIXES),
    SCORES: folder.write('scores.csv', TINY_SCORES),
    RATIOS: folder.write('ratios.csv', TINY_RATIOS),
  };
});
afterAll(() => {
  folder.remove();
});

const run = (line: string) =>
  dropwise(
    ...line
      .split(' ')
      .filter((word) => word !== '')
      .map((word) => names[word] ?? word),
  );

const WRONG: [string, RegExp][] = [
  ['', /Usage: dropwise/],
  ['brew', /unknown command 'brew'/],
  ['plan BRIEF --mixes 8 --colour red', /unknown option '--colour'/],
  ['plan BRIEF', /required option '--mixes <N>' not specified/],
  ['plan --mixes 8', /missing required argument 'brief.json'/],
  ['plan BRIEF extra --mixes 8', /too many arguments/],
  ['plan BRIEF --mixes', /argument missing/],
  ['plan BRIEF --mixes eight', /'eight' is invalid.*whole number/],
  ['plan BRIEF --mixes 8.5', /'8.5' is invalid/],
  ['plan BRIEF --mixes -8', /'-8' is invalid/],
  ['plan BRIEF --mixes 1e1', /'1e1' is invalid/],
  [
    'plan BRIEF --mixes 8 --model cubic',
    /'cubic' is invalid. Allowed choices are linear, quadratic, special-cubic, full-cubic, log-ratio/,
  ],
  ['plan BRIEF --mixes 8 --model process', /'process' is invalid/],
  [
    'plan BRIEF --mixes 8 --criterion best',
    /'best' is invalid. Allowed choices are average-variance, determinant/,
  ],
  ['plan BRIEF --mixes 8 --seed x', /--seed/],
  ['plan BRIEF --mixes 8 --seed 4294967296', /--seed/],
  ['plan BRIEF --mixes 8 --seed -1', /--seed/],
  ['order --mixes m1,m2', /required option '--assessors <A>' not specified/],
  ['order --assessors 3', /required option '--mixes/],
  ['order --assessors 0 --mixes m1,m2', /'0' is invalid/],
  ['order --assessors 3 --mixes m1,,m2', /names of 1 to 80 characters/],
  ['order --assessors 3 --mixes m1,m1', /each name once \(m1 stands twice\)/],
  ['order --assessors 3 --mixes warmup', /names no mix that is analysed/],
  ['order --assessors 3 --mixes m1 --replicates 0', /'0' is invalid/],
  ['panel', /missing required argument 'scores.csv'/],
  ['panel SCORES --df exact', /'exact' is invalid. Allowed choices are satterthwaite, kenward-roger/],
  ['fit BRIEF MIXES', /missing required argument 'scores.csv'/],
  ['fit BRIEF MIXES SCORES --model cubic', /'cubic' is invalid/],
  ['fit BRIEF MIXES SCORES --df none', /'none' is invalid/],
  ['predict BRIEF MIXES SCORES', /required option '--at <ratios.csv>' not specified/],
  [
    'predict BRIEF MIXES SCORES --at RATIOS --for everyone',
    /'everyone' is invalid. Allowed choices are panel, population/,
  ],
  ['next BRIEF MIXES SCORES', /required option '--count <K>' not specified/],
  ['next BRIEF MIXES SCORES --count 0', /'0' is invalid/],
  [
    'difference square --trials 10 --correct 5',
    /'square' is invalid for argument 'METHOD'. Allowed choices are/,
  ],
  ['difference', /missing required argument 'METHOD'/],
  ['difference triangle --trials 10', /required option '--correct' not specified/],
  ['difference triangle --correct 10', /required option '--trials' not specified/],
  ['difference triangle --trials 10 --correct 11', /--correct: found 11, allowed at most the 10 of --trials/],
  ['difference triangle --trials 0 --correct 0', /'0' is invalid/],
  ['difference triangle --trials 10 --correct 5 --power 0.8', /--power goes with --plan only/],
  ['difference triangle --plan --power 0.8 --alpha 0.05', /required option '--dprime' not specified/],
  ['difference triangle --plan --dprime 0 --power 0.8 --alpha 0.05', /'0' is invalid/],
  ['difference triangle --plan --dprime 1 --power 1 --alpha 0.05', /'1' is invalid/],
  ['difference triangle --plan --dprime 1 --power 0.8 --alpha nought', /'nought' is invalid/],
  [
    'difference triangle --plan --dprime 1 --power 0.04 --alpha 0.05',
    /--power: found 0.04, allowed more than --alpha/,
  ],
  [
    'difference triangle --plan --dprime 1 --power 0.8 --alpha 0.05 --trials 3',
    /--trials does not go with --plan/,
  ],
  ['bench', /Usage: dropwise bench/],
  ['bench brew', /unknown command 'brew'/],
  ['bench dilute --from 96 --to 40', /required option '--make <V>' not specified/],
  ['bench dilute --from 101 --to 40 --make 500', /'101' is invalid.*at most 100/],
  ['bench dilute --from 40 --to 96 --make 500', /--to: found 96, allowed at most the 40 of --from/],
  ['bench dilute --from 96 --to 40 --make 0', /'0' is invalid.*above 0/],
  ['bench strength', /missing required argument 'formula.json'/],
  ['bench weigh FORMULA', /required option '--readability <D>' not specified/],
  ['bench weigh FORMULA --readability fine', /'fine' is invalid/],
  ['bench weigh FORMULA --readability 0.01 --tolerance 1', /'1' is invalid/],
  ['bench dose FORMULA --syrup-dose 1 --syrup-per-drink 30', /required option '--drink <C>' not specified/],
  [
    'bench dose FORMULA --syrup-dose 1 --syrup-per-drink 300 --drink 180',
    /--syrup-per-drink: found 300, allowed at most the 180/,
  ],
  ['bench dose FORMULA --syrup-dose -1 --syrup-per-drink 30 --drink 180', /'-1' is invalid/],
  ['bench scale FORMULA', /required option '--to <AMOUNT>' not specified/],
  ['bench scale FORMULA --to 5', /'5' is invalid. Allowed: a number above 0 with mg, g, kg, mL, cL or L/],
  ['bench scale FORMULA --to 5furlongs', /'5furlongs' is invalid/],
  ['bench scale FORMULA --to 0kg', /'0kg' is invalid/],
  ['open --port high', /'high' is invalid/],
  ['open --port 65536', /'65536' is invalid/],
  ['open --certificate BRIEF', /--certificate and --key go together/],
  ['backup', /missing required argument 'FILE'/],
  ['export', /missing required argument 'TRIAL'/],
];

describe('a wrong command line: exit status 2, nothing on standard output', () => {
  test.each(WRONG)('dropwise %s', async (line, message) => {
    const { status, out, err } = await run(line);
    expect(err).toMatch(message);
    expect(out).toBe('');
    expect(status).toBe(2);
  });
});

describe('help', () => {
  const commands = [
    'plan',
    'order',
    'panel',
    'fit',
    'predict',
    'next',
    'difference',
    'open',
    'backup',
    'restore',
    'export',
    'import',
  ];

  test.each(commands)('%s shows an example of itself', async (command) => {
    const { status, out, err } = await run(`${command} --help`);
    expect({ status, err }).toEqual({ status: 0, err: '' });
    expect(out).toMatch(new RegExp(`^Usage: dropwise ${command} `));
    expect(out).toMatch(new RegExp(`^Example: dropwise ${command} `, 'm'));
  });

  test.each(['dilute', 'strength', 'weigh', 'dose', 'scale'])(
    'bench %s shows an example of itself',
    async (command) => {
      const { status, out } = await run(`bench ${command} --help`);
      expect(status).toBe(0);
      expect(out).toMatch(new RegExp(`^Example: dropwise bench ${command} `, 'm'));
    },
  );

  test('shows each option of each command in an example', async () => {
    const bench = ['dilute', 'strength', 'weigh', 'dose', 'scale'].map((one) => `bench ${one}`);
    const asides = ['ranks', 'pairs', 'picks', 'words'].map((one) => `aside ${one}`);
    for (const command of [...commands, ...bench, ...asides]) {
      const { out } = await run(`${command} --help`);
      const [usage, examples] = [out.split('\nExample:')[0]!, out.split('\nExample:').slice(1).join(' ')];
      const options = [...usage.matchAll(/^ {2}(--[a-z-]+)/gm)].map(([, option]) => option!);
      expect(options.filter((option) => option !== '--help').length, command).toBeGreaterThan(0);
      for (const option of options)
        if (option !== '--help') expect(examples, command).toMatch(new RegExp(`${option}(?![a-z-])`));
    }
  });

  test('names every command', async () => {
    const { status, out } = await run('--help');
    expect(status).toBe(0);
    for (const command of commands) expect(out).toMatch(new RegExp(`^ {2}${command} `, 'm'));
  });

  test('tells the version', async () => {
    const { status, out } = await run('--version');
    expect(status).toBe(0);
    expect(out).toMatch(/^\d+\.\d+\.\d+\n$/);
  });
});
