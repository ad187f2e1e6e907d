import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { z } from 'zod';
import {
  DifferencePlanResult,
  DifferenceResult,
  FitResult,
  NextResult,
  OrderResult,
  PanelResult,
  PlanResult,
  PredictResult,
} from '../../../trials/schema/results.ts';
import { dropwise, Folder } from '../support/command-line.ts';
import { TINY_BRIEF, TINY_MIXES, TINY_RATIOS, TINY_SCORES } from '../support/tiny-trial.ts';

const EXAMPLES = new URL('../../../examples/', import.meta.url).pathname;
const yarn = ['brief.json', 'mixes.csv', 'scores.csv'].map((file) => `${EXAMPLES}yarn/${file}`);
const demo = ['brief.json', 'mixes.csv', 'scores.csv'].map((file) => `${EXAMPLES}demo/${file}`);

let folder: Folder;
let tiny: string[];
let at: string;
beforeAll(() => {
  folder = new Folder();
  tiny = [
    folder.write('brief.json', TINY_BRIEF),
    folder.write('mixes.csv', TINY_MIXES),
    folder.write('scores.csv', TINY_SCORES),
  ];
  at = folder.write('ratios.csv', TINY_RATIOS);
});
afterAll(() => {
  folder.remove();
});

/** Runs a command with --json; the document as the schema has it. */
async function document<T extends z.ZodType>(schema: T, ...args: string[]): Promise<z.infer<T>> {
  const { status, out, err } = await dropwise(...args, '--json');
  expect(status, err).toBe(0);
  return schema.parse(JSON.parse(out));
}

describe('plan', () => {
  test('the demo: weighable mixes within the region, the same bytes for the same seed', async () => {
    const args = ['plan', demo[0]!, '--mixes', '12', '--seed', '7'];
    const one = await dropwise(...args, '--json');
    expect(one.status, one.err).toBe(0);
    const plan = PlanResult.parse(JSON.parse(one.out));
    expect(plan.mixes).toHaveLength(12);
    expect(plan.seed).toBe(7);
    for (const { grams, ratios } of plan.mixes) {
      const steps = Object.values(grams).map((g) => Math.round(g / 0.01));
      expect(steps.reduce((a, b) => a + b, 0)).toBe(400);
      for (const [id, g] of Object.entries(grams)) expect(ratios[id]).toBeCloseTo(g / 4, 12);
    }
    expect((await dropwise(...args, '--json')).out).toBe(one.out);
    expect((await dropwise(...args.slice(0, -1), '8', '--json')).out).not.toBe(one.out);
  });

  test('rehearsed: the same plan, and how often it would find the target, to the byte', async () => {
    const args = ['plan', tiny[0]!, '--mixes', '6'];
    const rehearsed = [...args, '--rehearse', 'easy', '--truths', '2', '--more-rounds', '1'];
    const { rehearsal, mixes } = await document(PlanResult, ...rehearsed);
    expect(mixes).toEqual((await document(PlanResult, ...args)).mixes);
    expect(rehearsal!.difficulty).toBe('easy');
    expect(rehearsal!.stages.map(({ rounds }) => rounds)).toEqual([0, 1]);
    expect(rehearsal!.stages[0]!.mixes).toBe(6);
    for (const { found, share } of rehearsal!.stages) expect(share).toBe(found / 2);
    const [one, two] = [await dropwise(...rehearsed, '--json'), await dropwise(...rehearsed, '--json')];
    expect(one.out).toBe(two.out);
    expect((await dropwise(...rehearsed)).out).toContain('2 invented truths');
    expect((await dropwise(...args, '--rehearse', 'no')).status).toBe(2);
  });

  test('an additional set beside what has been weighed', async () => {
    const plan = await document(PlanResult, 'plan', tiny[0]!, '--mixes', '4', '--already', tiny[1]!);
    expect(plan.mixes).toHaveLength(4);
    const taken = ['m1', 'm2', 'm3', 'm4', 'm5', 'm6', 'm7', 'm8'];
    expect(plan.mixes.filter(({ mix }) => taken.includes(mix))).toEqual([]);
  });

  test('fresh weighings carry names of their own', async () => {
    const plan = await document(
      PlanResult,
      'plan',
      tiny[0]!,
      '--mixes',
      '8',
      '--replicated',
      '2',
      '--model',
      'linear',
    );
    const names = plan.mixes.map(({ mix }) => mix);
    const repeats = plan.mixes.flatMap((mix) => (mix.repeats === undefined ? [] : [mix.repeats]));
    expect(new Set(names).size).toBe(8);
    expect(repeats).toHaveLength(2);
    for (const name of repeats) expect(names).toContain(name);
  });

  test('fewer mixes than components are refused', async () => {
    const { status, out, err } = await dropwise('plan', tiny[0]!, '--mixes', '2', '--json');
    expect(status).toBe(1);
    expect(out).toBe('');
    expect(err).toMatch(/2.*3/);
  });
});

describe('order', () => {
  test('every assessor gets every mix; codes are three digits and never twice', async () => {
    const order = await document(
      OrderResult,
      'order',
      '--assessors',
      '6',
      '--mixes',
      'm1,m2,m3,reference',
      '--replicates',
      '2',
      '--per-sitting',
      '4',
      '--session',
      'Tuesday',
      '--seed',
      '99',
    );
    const cups = order.sittings.flatMap(({ cups: tray }) => tray);
    expect(cups).toHaveLength(48);
    for (const assessor of ['P1', 'P6']) {
      const own = order.sittings.filter((s) => s.assessor === assessor).flatMap((s) => s.cups);
      expect(own.filter(({ mix }) => mix === 'reference')).toHaveLength(2);
      expect(new Set(own.map(({ code }) => code)).size).toBe(8);
    }
    expect(order.sittings[0]!.session).toContain('Tuesday');
    expect(order.balance.positionSpread).toBeLessThanOrEqual(1);
    expect(order.warnings).toEqual([]);
  });

  test('a seed left at its default is warned about', async () => {
    const { err, out } = await dropwise('order', '--assessors', '2', '--mixes', 'm1,m2', '--json');
    expect(err).toContain('warning: the seed was left at its default');
    expect(OrderResult.parse(JSON.parse(out)).warnings).toHaveLength(1);
  });
});

describe('panel', () => {
  test('the demo with its brief', async () => {
    const panel = await document(PanelResult, 'panel', demo[2]!, '--brief', demo[0]!);
    expect(panel.attributes.map(({ id }) => id)).toEqual([
      'zest',
      'juicy',
      'spice',
      'bitter',
      'woody',
      'catty',
    ]);
    const [zest] = panel.attributes;
    expect(zest!.means.map(({ mix }) => mix)).toContain('reference');
    expect(zest!.assessors).toHaveLength(6);
    expect(zest!.differences).toHaveLength((13 * 12) / 2);
  });

  test('without a brief every column of numbers is an attribute, others are passed over with a reason', async () => {
    const scores = folder.write(
      'free.csv',
      'mix,assessor,bitter,remark,sweet\nm1,P1,250,fine,\nm2,P1,-3,4,1e-3\nm1,P2,1,5,2\nm2,P2,4,6,3\n',
    );
    const panel = await document(PanelResult, 'panel', scores);
    expect(panel.attributes.map(({ id }) => id)).toEqual(['bitter', 'sweet']);
    expect(panel.warnings).toEqual([
      `${scores}, line 2, column remark: "fine" is no number, so the column is passed over`,
    ]);
  });
});

test('panel warns where tasters shift between sessions, until it is asked to count them', async () => {
  const lines = ['mix,assessor,session,replicate,bitter'];
  for (const s of [1, 2, 3])
    for (const a of [1, 2, 3, 4, 5])
      for (const m of [1, 2, 3, 4])
        lines.push(
          `m${m},P${a},s${s},${s},${40 + 5 * m + 3 * ((7 * a + 5 * s + a * s) % 5) + ((a * m * s) % 3)}`,
        );
  const shifting = folder.write('shifting.csv', `${lines.join('\n')}\n`);
  const warned = /Warning: assessors shift their levels .* read with --assessor-by-session \(p <0\.001\)\./;
  expect((await dropwise('panel', shifting)).out).toMatch(warned);
  expect((await dropwise('panel', shifting, '--assessor-by-session')).out).not.toMatch(/Warning: assessors/);
});

describe('fit', () => {
  test('the yarn of the NIST/SEMATECH e-Handbook (5.5.4.2): its coefficients and standard errors', async () => {
    const { attributes } = await document(FitResult, 'fit', ...yarn, '--model', 'quadratic');
    const rows = attributes[0]!.coefficients.map(({ term, estimate, standardError }) => [
      term,
      Number(estimate.toFixed(10)),
      Number(standardError!.toFixed(4)),
    ]);
    expect(rows).toEqual([
      ['polyethylene', 11.7, 0.6037],
      ['polystyrene', 9.4, 0.6037],
      ['polypropylene', 16.4, 0.6037],
      ['polyethylene*polystyrene', 19, 2.6082],
      ['polyethylene*polypropylene', 11.4, 2.6082],
      ['polystyrene*polypropylene', -9.6, 2.6082],
    ]);
  });

  test('the demo, both kinds of degrees of freedom', async () => {
    const first = await document(FitResult, 'fit', ...demo, '--model', 'linear');
    expect(first.attributes).toHaveLength(6);
    const second = await document(FitResult, 'fit', ...demo, '--model', 'linear', '--df', 'kenward-roger');
    const [a, b] = [first, second].map(({ attributes }) => attributes[0]!.coefficients[0]!);
    expect(a!.estimate).toBe(b!.estimate);
    expect(a!.standardError).not.toBe(b!.standardError);
  });
});

describe('predict', () => {
  test('rows in the order of the file, by panel and by population', async () => {
    const { rows } = await document(PredictResult, 'predict', ...tiny, '--at', at, '--model', 'linear');
    expect(rows.map(({ name }) => name)).toEqual(['middle', 'sharp']);
    expect(rows[0]!.ratios).toEqual({ peel: 0.5, lime: 0.25, pepper: 0.25 });
    const wide = await document(
      PredictResult,
      'predict',
      ...tiny,
      '--at',
      at,
      '--model',
      'linear',
      '--for',
      'population',
    );
    expect(wide.rows[0]!.attributes[0]!.standardError!).toBeGreaterThan(
      rows[0]!.attributes[0]!.standardError!,
    );
  });

  test('weighing on request: same means, wider errors, told apart', async () => {
    const asked = ['predict', ...tiny, '--at', at, '--model', 'linear'];
    const plain = (await document(PredictResult, ...asked)).rows[0]!.attributes[0]!;
    const weighed = (await document(PredictResult, ...asked, '--weighing')).rows[0]!.attributes[0]!;
    expect(plain).not.toHaveProperty('weighing');
    expect(weighed.mean).toBe(plain.mean);
    expect(weighed.weighing).toBeGreaterThan(0);
    expect(weighed.standardError).toBeCloseTo(Math.hypot(plain.standardError!, Number(weighed.weighing)), 12);
    expect(weighed.interval![1]).toBeGreaterThan(plain.interval![1]);
  });

  test('grams and shares are the same ratio', async () => {
    const grams = folder.write('grams.csv', 'peel;lime;pepper;dose;unit\n5;2,5;2,5;2;g\n0,5;0,25;0,25;2;\n');
    const { rows } = await document(PredictResult, 'predict', ...tiny, '--at', grams, '--model', 'linear');
    expect(rows.map(({ name }) => name)).toEqual(['row 2', 'row 3']);
    expect(rows[0]!.attributes.map(({ mean }) => mean)).toEqual(rows[1]!.attributes.map(({ mean }) => mean));
  });
});

describe('next', () => {
  test('the demo: new names, weighable masses, the same bytes for the same seed', async () => {
    const args = ['next', ...demo, '--count', '3', '--seed', '5'];
    const one = await dropwise(...args, '--json');
    expect(one.status, one.err).toBe(0);
    const next = NextResult.parse(JSON.parse(one.out));
    expect(next.proposals).toHaveLength(3);
    for (const { grams } of [...next.proposals, next.best])
      expect(Object.values(grams).reduce((sum, g) => sum + Math.round(g * 100), 0)).toBe(400);
    expect(Object.keys(next.best.predicted)).toEqual(['zest', 'juicy', 'spice', 'bitter', 'woody', 'catty']);
    expect((await dropwise(...args, '--json')).out).toBe(one.out);
  });

  test('foretells what predict foretells by the process', async () => {
    const { best } = await document(NextResult, 'next', ...tiny, '--count', '1');
    const ids = Object.keys(best.ratios);
    const settings = Object.keys(best.settings);
    const cells = [...ids.map((id) => best.ratios[id]), ...settings.map((id) => best.settings[id])];
    const ratios = folder.write('best.csv', `${[...ids, ...settings].join()}\n${cells.join()}\n`);
    const { rows } = await document(PredictResult, 'predict', ...tiny, '--at', ratios, '--model', 'process');
    for (const { id, mean, interval } of rows[0]!.attributes) {
      expect(best.predicted[id]!.mean).toBeCloseTo(mean!, 9);
      expect(best.predicted[id]!.interval[0]).toBeCloseTo(interval![0], 9);
      expect(best.predicted[id]!.interval[1]).toBeCloseTo(interval![1], 9);
    }
  });

  test('from what is left: each proposal says what to pour, old bottles are left standing', async () => {
    const left = folder.write(
      'left.csv',
      'mix,grams,hours\nm1,3,10\nm2,2.5,30\nm3,3,100\nm4,3.4,\nm5,2,20\n',
    );
    const next = await document(
      NextResult,
      'next',
      ...demo,
      '--count',
      '3',
      '--leftovers',
      left,
      '--rest',
      '24',
    );
    expect(next.proposals).toHaveLength(3);
    const onHand: Record<string, number> = { m1: 3, m2: 2.5, m4: 3.4, m5: 2 };
    for (const { fromLeftovers: made } of next.proposals) {
      const masses = [...made!.pours.map(({ grams }) => grams), ...Object.values(made!.fresh)];
      expect(masses.reduce((sum, grams) => sum + grams, 0)).toBeCloseTo(4, 9);
      for (const { mix, grams } of made!.pours) onHand[mix] = onHand[mix]! - grams;
    }
    expect(next.proposals.some(({ fromLeftovers: made }) => made!.saves.grams > 1)).toBe(true);
    for (const grams of Object.values(onHand)) expect(grams).toBeGreaterThan(-1e-9);
    expect(next.warnings.filter((warning) => warning.startsWith('m3 is older'))).toHaveLength(1);
    const told = await dropwise('next', ...demo, '--count', '1', '--leftovers', left);
    expect(told.out).toContain('From what is left');
  });
});

describe('difference', () => {
  test('a triangle test read: 16 of 30', async () => {
    const reading = await document(
      DifferenceResult,
      'difference',
      'triangle',
      '--trials',
      '30',
      '--correct',
      '16',
    );
    expect(reading.needed).toBe(15);
    expect(reading.p).toBeCloseTo(0.018_83, 4);
  });

  test('a tetrad test planned', async () => {
    const plan = await document(
      DifferencePlanResult,
      'difference',
      'tetrad',
      '--plan',
      '--dprime',
      '1',
      '--power',
      '0.8',
      '--alpha',
      '0.05',
    );
    expect(plan.trials!).toBeGreaterThanOrEqual(plan.firstTrials!);
    expect(plan.power!).toBeGreaterThanOrEqual(0.8);
  });
});

describe('the readable form', () => {
  test.each<[string, () => string[], RegExp]>([
    [
      'plan',
      () => ['plan', tiny[0]!, '--mixes', '8'],
      /^8 mixes of 10 g for Tiny; the \w+ model has \d+ terms\.\n\n {2}mix +peel \(g\)/,
    ],
    [
      'order',
      () => ['order', '--assessors', '2', '--mixes', 'm1,m2', '--seed', '3'],
      /^2 sittings, 4 cups\./,
    ],
    ['panel', () => ['panel', tiny[2]!], /^bitter: /],
    [
      'fit',
      () => ['fit', ...tiny, '--model', 'linear'],
      /^bitter: linear model; .*\n\n {2}term +estimate +standard error/,
    ],
    [
      'predict',
      () => ['predict', ...tiny, '--at', at, '--model', 'linear'],
      /^2 ratios: what this panel's average should be\./,
    ],
    ['next', () => ['next', ...tiny, '--count', '2'], /^(Stop|Go on): /],
    ['difference', () => ['difference', 'two-afc', '--trials', '20', '--correct', '15'], /^15 of 20 correct/],
  ])('%s begins with a sentence and goes on with a table', async (_, args, begins) => {
    const { status, out } = await dropwise(...args());
    expect(status).toBe(0);
    expect(out).toMatch(begins);
    expect(out).not.toMatch(/NaN|undefined|null|\[object/);
  });
});
