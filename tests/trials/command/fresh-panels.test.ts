import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { noteDigits } from '../../support/digits.ts';
import { dropwise, Folder } from '../support/command-line.ts';

/**
 * The command against lme4, lmerTest, pbkrtest, emmeans and base R on the same freshly drawn, unbalanced CSV: written
 * by tests/reference/command/fresh-panels.R, versions beside the values.
 */
interface Tested {
  f: number;
  numDf: number;
  denDf: number;
  p: number;
}
interface Figures {
  estimate: number;
  se: number;
  df: number;
  p: number;
}
interface Case {
  name: string;
  kind: 'panel' | 'scaled' | 'ratios';
  df: string;
  rows: string[][];
  variance: Record<string, number>;
  logLik: number;
  // panel
  adjust?: boolean;
  assessorBySession?: boolean;
  test: Tested;
  means: { mix: string; mean: number; se: number; df: number }[];
  pairs: { pair: string; difference: number; se: number; df: number; p: number }[];
  order?: Figures[] | null;
  // scaled
  mixTest: Tested;
  scaling: Tested;
  disagreement: Tested;
  slopes: { assessor: string; slope: number; se: number }[];
  // ratios
  model: string;
  settings?: 'each' | 'whole' | null;
  mixes: unknown[][];
  mixColumns: string[];
  at: unknown[][];
  atColumns: string[];
  coefficients: (Figures & { term: string })[];
  reference?: { mean: number; se: number } | null;
  blending: Tested;
  lackOfFit: Tested;
  leaveOneMixOut: { rmse: number; q2: number };
  rSquared: number;
  predictions?: { mean: number; se: number }[] | null;
}

const { cases } = JSON.parse(readFileSync('tests/reference/command/fresh-panels.json', 'utf8')) as {
  cases: Case[];
};
const HEAD = ['mix', 'assessor', 'session', 'replicate', 'position', 'y'];
let folder: Folder;

beforeAll(() => {
  folder = new Folder();
});
afterAll(() => {
  folder.remove();
});

function table(name: string, head: readonly string[], rows: readonly (readonly unknown[])[]): string {
  return folder.write(
    name,
    [head, ...rows].map((row) => row.map((v) => String(v).trim()).join(',')).join('\n'),
  );
}

function near(found: number | null | undefined, expected: number, relative: number, floor = 0): void {
  expect(found).not.toBeNull();
  noteDigits(found, expected, floor);
  const off = Math.abs(found! - expected);
  if (!(off <= relative * Math.abs(expected) + floor))
    expect.fail(`found ${found}, expected ${expected}: off by ${off}`);
}

function nearTest(found: Tested, expected: Tested): void {
  near(found.f, expected.f, 1e-5);
  expect(found.numDf).toBe(expected.numDf);
  near(found.denDf, expected.denDf, 1e-3);
  near(found.p, expected.p, 1e-3);
}

async function json(...args: string[]) {
  const { status, out, err } = await dropwise(...args, '--json');
  expect(err.split('\n').filter((line) => line !== '' && !line.startsWith('warning: '))).toEqual([]);
  expect(status).toBe(0);
  return JSON.parse(out);
}

const NAMES: Record<string, string> = {
  assessor: 'assessor',
  'assessor:mix': 'assessorByMix',
  session: 'session',
  'assessor:session': 'assessorBySession',
  residual: 'residual',
};

function nearVariances(found: Record<string, number | null>, expected: Record<string, number>): void {
  for (const [name, value] of Object.entries(expected))
    near(found[NAMES[name]!], value, 1e-4, 1e-6 * expected.residual!);
}

describe('panel', () => {
  it.each(cases.filter(({ kind }) => kind === 'panel').map((c) => [`${c.name}, ${c.df}`, c] as const))(
    '%s',
    async (_, expected) => {
      const args = ['panel', table('scores.csv', HEAD, expected.rows), '--df', expected.df];
      if (expected.adjust) args.push('--adjust');
      if (expected.assessorBySession) args.push('--assessor-by-session');
      const [found] = (await json(...args)).attributes;
      nearVariances(found.variance, expected.variance);
      near(found.logRestrictedLikelihood, expected.logLik, 1e-8);
      nearTest(found.mixTest, expected.test);
      for (const mean of expected.means) {
        const own = found.means.find((m: { mix: string }) => m.mix === mean.mix);
        near(own.mean, mean.mean, 1e-5);
        near(own.standardError, mean.se, 1e-4);
        near(own.denDf, mean.df, 1e-3);
      }
      expect(found.differences).toHaveLength(expected.pairs.length);
      for (const pair of expected.pairs) {
        const [a, b] = pair.pair.split(' - ');
        const own = found.differences.find(
          (d: { a: string; b: string }) => [a, b].includes(d.a) && [a, b].includes(d.b),
        );
        near(own.difference * (own.a === a ? 1 : -1), pair.difference, 1e-5, 1e-7);
        near(own.standardError, pair.se, 1e-4);
        near(own.denDf, pair.df, 1e-3);
        near(own.p, pair.p, 1e-4, 1e-6);
      }
      expected.order?.forEach((effect, i) => {
        near(found.order[i].estimate, effect.estimate, 1e-5);
        near(found.order[i].standardError, effect.se, 1e-4);
        near(found.order[i].denDf, effect.df, 1e-3);
        near(found.order[i].p, effect.p, 1e-3);
      });
      expect(found.order?.length ?? 0).toBe(expected.order?.length ?? 0);
    },
  );

  it.each(cases.filter(({ kind }) => kind === 'scaled').map((c) => [c.name, c] as const))(
    'mixed assessor model: %s',
    async (_, expected) => {
      const [found] = (await json('panel', table('scores.csv', HEAD, expected.rows))).attributes;
      nearTest(found.mixedAssessor.mixTest, expected.mixTest);
      nearTest(found.mixedAssessor.scaling, expected.scaling);
      nearTest(found.mixedAssessor.disagreement, expected.disagreement);
      expect(found.mixedAssessor.slopes).toHaveLength(expected.slopes.length);
      for (const slope of expected.slopes) {
        const own = found.mixedAssessor.slopes.find(
          (s: { assessor: string }) => s.assessor === slope.assessor,
        );
        near(own.slope, slope.slope, 1e-8);
        near(own.standardError, slope.se, 1e-8);
      }
    },
  );
});

function briefOf({ settings }: Case) {
  const component = (id: string, low: number, high: number) => ({ id, name: id, low, high });
  return {
    format: 'brief/1',
    name: 'fresh',
    components: [component('a', 0.1, 0.8), component('b', 0.1, 0.8), component('c', 0.05, 0.4)],
    settings: settings ? [{ id: 'dose', name: 'Dose', unit: 'mL', low: 1, high: 3, acts: settings }] : [],
    batch: { grams: 4, readability: 0.01 },
    attributes: [{ id: 'y', name: 'Y', scale: [0, 100], target: 50 }],
    panel: { assessors: 6, cupsPerSitting: 4, replicates: 1 },
  };
}

describe('fit and predict', () => {
  it.each(cases.filter(({ kind }) => kind === 'ratios').map((c) => [`${c.name}, ${c.df}`, c] as const))(
    '%s',
    async (_, expected) => {
      const files = [
        folder.write('brief.json', briefOf(expected)),
        table('mixes.csv', expected.mixColumns, expected.mixes),
        table('scores.csv', HEAD, expected.rows),
      ];
      const options = ['--model', expected.model, '--df', expected.df];
      const [found] = (await json('fit', ...files, ...options)).attributes;
      nearVariances(found.variance, expected.variance);
      near(found.logRestrictedLikelihood, expected.logLik, 1e-8);
      expect(found.coefficients).toHaveLength(expected.coefficients.length);
      for (const one of expected.coefficients) {
        const own = found.coefficients.find((c: { term: string }) => c.term === one.term);
        near(own.estimate, one.estimate, 1e-5, 1e-4);
        near(own.standardError, one.se, 1e-4);
        near(own.denDf, one.df, 1e-3);
        if (['a', 'b', 'c'].includes(one.term)) expect(own.p).toBeNull();
        else near(own.p, one.p, 1e-3);
      }
      nearTest(found.blending, expected.blending);
      nearTest(found.lackOfFit, expected.lackOfFit);
      near(found.leaveOneMixOut.rmse, expected.leaveOneMixOut.rmse, 1e-5);
      near(found.leaveOneMixOut.q2, expected.leaveOneMixOut.q2, 1e-5);
      near(found.rSquared, expected.rSquared, 1e-6);
      if (expected.reference) {
        near(found.reference.mean, expected.reference.mean, 1e-5);
        near(found.reference.standardError, expected.reference.se, 1e-4);
      }
      if (!expected.predictions) return;
      const at = table('at.csv', expected.atColumns, expected.at);
      const { rows } = await json('predict', ...files, '--model', expected.model, '--at', at);
      expect(rows).toHaveLength(expected.predictions.length);
      expected.predictions.forEach((one, i) => {
        near(rows[i].attributes[0].mean, one.mean, 1e-5);
        near(rows[i].attributes[0].standardError, one.se, 1e-4);
      });
    },
  );
});
