import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { FitResult, PanelResult, PredictResult } from '../../../trials/schema/results.ts';
import { dropwise, Folder } from '../support/command-line.ts';

/** Data that cannot tell: every command answers, with a reason for what it does not say and never a NaN. */
const BRIEF = {
  format: 'brief/1',
  name: 'Cannot tell',
  components: [{ id: 'peel', low: 0.1 }, { id: 'lime', high: 0.7 }, { id: 'pepper' }],
  batch: { grams: 10, readability: 0.01 },
  attributes: [{ id: 'bitter', scale: [0, 100], target: 50 }],
  panel: { assessors: 3, cupsPerSitting: 4 },
};
const RATIOS = 'name,peel,lime,pepper\nmiddle,0.4,0.3,0.3\n';

const SPREAD = { m1: '8,1,1', m2: '2,6,2', m3: '2,1,7', m4: '4,3,3', m5: '5,5,0', m6: '1,4,5', m7: '6,1,3' };
/** Along one line: three components cannot be told from two. */
const LINE = { m1: '8,1,1', m2: '6,2,2', m3: '4,3,3', m4: '2,4,4', m5: '5,2.5,2.5' };

interface Case {
  mixes: Record<string, string>;
  assessors: number;
  replicates?: number;
  score: (mix: number, assessor: number, replicate: number) => number | '';
  /** What the panel's status, and the fit's, have to be. */
  panel: string;
  fit: string;
  reason: RegExp;
  /** What some warning has to say. */
  warns?: RegExp;
}

const wavy = (m: number, a: number, r = 0) => 30 + 6 * m + 3 * a + ((7 * m + 5 * a + 3 * r + m * a) % 5);
const only = (mixes: Record<string, string>, count: number) =>
  Object.fromEntries(Object.entries(mixes).slice(0, count));

const CASES: Record<string, Case> = {
  'constant scores': {
    mixes: SPREAD,
    assessors: 3,
    score: () => 40,
    panel: 'constant',
    fit: 'constant',
    reason: /every score is the same/,
  },
  'one mix': {
    mixes: only(SPREAD, 1),
    assessors: 3,
    score: wavy,
    panel: 'one-mix',
    fit: 'not-estimable',
    reason: /only one mix was scored/,
  },
  'one assessor': {
    mixes: SPREAD,
    assessors: 1,
    replicates: 2,
    score: wavy,
    panel: 'estimated',
    fit: 'estimated',
    reason: /^$/,
    warns: /one assessor/,
  },
  'one assessor with one cup of each mix': {
    mixes: SPREAD,
    assessors: 1,
    score: wavy,
    panel: 'no-residual',
    fit: 'estimated',
    reason: /^$/,
  },
  'all missing': {
    mixes: SPREAD,
    assessors: 3,
    score: () => '',
    panel: 'missing',
    fit: 'missing',
    reason: /no score was given/,
  },
  'duplicated ballots': {
    mixes: SPREAD,
    assessors: 3,
    score: (m) => wavy(m, 0),
    panel: 'no-residual',
    fit: 'estimated',
    reason: /^$/,
    warns: /the same scores|copied|alike/i,
  },
  'perfect collinearity': {
    mixes: LINE,
    assessors: 3,
    score: wavy,
    panel: 'estimated',
    fit: 'not-estimable',
    reason: /cannot tell .+ from the other terms/,
  },
  'fewer mixes than terms': {
    mixes: only(SPREAD, 2),
    assessors: 3,
    score: wavy,
    panel: 'estimated',
    fit: 'not-estimable',
    reason: /2 mixes were scored and the linear model has 3 terms/,
  },
};

let folder: Folder;
beforeAll(() => {
  folder = new Folder();
});
afterAll(() => {
  folder.remove();
});

function filesOf({ mixes, assessors, replicates = 1, score }: Case): [string, string, string] {
  const names = Object.keys(mixes);
  const rows = Array.from({ length: replicates }, (_, r) =>
    Array.from({ length: assessors }, (_, a) =>
      names.map((mix, m) => `${mix},P${a + 1},${r + 1},${score(m, a, r)}`),
    ),
  ).flat(2);
  return [
    folder.write('brief.json', BRIEF),
    folder.write(
      'mixes.csv',
      `mix,peel,lime,pepper\n${names.map((mix) => `${mix},${mixes[mix]}`).join('\n')}\n`,
    ),
    folder.write('scores.csv', `mix,assessor,replicate,bitter\n${rows.join('\n')}\n`),
  ];
}

async function json(...args: string[]): Promise<unknown> {
  const { status, out, err } = await dropwise(...args, '--json');
  expect(status, err).toBe(0);
  expect(out).not.toMatch(/NaN|Infinity|undefined/);
  return JSON.parse(out);
}

describe.each(Object.entries(CASES))('%s', (_, given) => {
  test('has a status and a reason in every command', async () => {
    const [brief, mixes, scores] = filesOf(given);
    const panel = PanelResult.parse(await json('panel', scores, '--brief', brief));
    const read = panel.attributes[0]!;
    expect(read['status']).toBe(given.panel);
    if (given.panel !== 'estimated') expect(read['reason']).toMatch(/\w/);
    if (given.panel !== 'estimated') expect(read.mixTest.p).toBeNull();
    const said = JSON.stringify([panel.warnings, read['warnings']]);
    if (given.warns) expect(said).toMatch(given.warns);

    const linear = ['--model', 'linear'];
    const fit = FitResult.parse(await json('fit', brief, mixes, scores, ...linear)).attributes[0]!;
    expect(fit['status']).toBe(given.fit);
    expect(String(fit['reason'] ?? '')).toMatch(given.reason);
    if (given.fit !== 'estimated') expect(fit.coefficients).toEqual([]);

    const at = folder.write('ratios.csv', RATIOS);
    const predicted = PredictResult.parse(await json('predict', brief, mixes, scores, '--at', at, ...linear));
    const [one] = predicted.rows[0]!.attributes;
    if (given.fit === 'estimated') expect(one!.interval![0]).toBeLessThan(one!.interval![1]);
    else expect([one!.mean, one!.interval, one!['reason']]).toEqual([null, null, expect.any(String)]);

    const shown = await dropwise('fit', brief, mixes, scores, '--model', 'linear');
    expect(shown.out).not.toMatch(/NaN|undefined|null/);
    expect((await dropwise('panel', scores, '--brief', brief)).out).not.toMatch(/NaN|undefined|null/);
  });
});
