import { readFileSync } from 'node:fs';
import { afterAll, describe, expect, test } from 'vitest';
import { allPairs } from '../../../../engine/panel/mixed/all-pairs.ts';
import { estimate } from '../../../../engine/panel/mixed/estimate.ts';
import { fitMixed } from '../../../../engine/panel/mixed/fit.ts';
import type { DegreesMethod, MixedFit, MixedProblem } from '../../../../engine/panel/mixed/types.ts';
import { waldTest } from '../../../../engine/panel/mixed/wald-test.ts';
import { expectAllClose, expectClose } from './closeness.ts';

/** R writes a vector of one as a number. */
type Some<T> = T | T[];
interface Rows {
  estimate: Some<number>;
  standardError: Some<number>;
  df: Some<number>;
  p: Some<number>;
}
interface Joint {
  columns: Some<number>;
  f: number;
  numDf: number;
  denDf: number;
  p: number;
}
interface Means {
  weights: number[][];
  labels: string[];
  mean: number[];
  standardError: number[];
  df: number[];
  pairs: { difference: Some<number>; standardError: Some<number>; df: Some<number>; p: Some<number> };
}
type Key = 'satterthwaite' | 'kenwardRoger';
interface Case {
  name: string;
  y: number[];
  names: Some<string>;
  fixed: Some<number>[];
  random: { name: string; count: number; levels: number[] }[];
  zero: Some<string>;
  sigma2: number;
  variances: Record<string, number>;
  logRestrictedLikelihood: number;
  covariance: number[][];
  modes: Record<string, number[]>;
  satterthwaite: Rows;
  kenwardRoger: Rows;
  joint: Record<Key, Joint>[];
  means?: Record<Key, Means>;
}
interface Stored {
  cases: Case[];
  nlmeLogRestrictedLikelihood: Record<string, number>;
}

const stored: Stored = JSON.parse(readFileSync('tests/reference/mixed/mixed-models.json', 'utf8'));
const many = <T>(x: Some<T>): T[] => (Array.isArray(x) ? x : [x]);
const methods: [DegreesMethod, Key][] = [
  ['satterthwaite', 'satterthwaite'],
  ['kenward-roger', 'kenwardRoger'],
];

function problemOf(c: Case): MixedProblem {
  return {
    y: Float64Array.from(c.y),
    fixed: Float64Array.from(c.fixed.flat()),
    names: many(c.names),
    random: c.random.map((r) => ({ ...r, levels: Int32Array.from(r.levels) })),
  };
}
const fits = new Map<string, MixedFit>(stored.cases.map((c) => [c.name, fitMixed(problemOf(c))]));

/** The worst relative difference seen of each kind of number, printed at the end. */
const worst = new Map<string, { error: number; where: string }>();
function near(
  kind: string,
  where: string,
  actual: number | null,
  expected: number,
  rtol: number,
  atol = 0,
): void {
  expectClose(actual, expected, rtol, atol);
  const error = Math.max(0, Math.abs(actual! - expected) - atol) / Math.abs(expected || 1);
  if (error >= (worst.get(kind)?.error ?? 0)) worst.set(kind, { error, where });
}
const unit = (p: number, j: number) => Float64Array.from({ length: p }, (_, k) => (k === j ? 1 : 0));

afterAll(() => {
  const lines = [...worst].map(
    ([kind, { error, where }]) =>
      `${kind.padEnd(42)} ${error === 0 ? 'all' : (-Math.log10(error)).toFixed(1)} digits, least in ${where}`,
  );
  console.log(lines.join('\n'));
});

describe.each(stored.cases)('$name against lme4, lmerTest, pbkrtest, emmeans', (c) => {
  const fit = fits.get(c.name)!;

  test('estimates, variances and likelihood', () => {
    expect(fit.status).toBe('estimated');
    expect([...fit.zero].sort()).toEqual([...many(c.zero)].sort());
    for (const [j, v] of many(c.satterthwaite.estimate).entries())
      near('estimate', c.name, fit.beta[j]!, v, 1e-6);
    near('residual variance', c.name, fit.sigma2, c.sigma2, 1e-5);
    for (const [name, v] of Object.entries(c.variances))
      near('variance component', c.name, fit.variances[name]!, v, 1e-5, 1e-7 * c.sigma2);
    near(
      'log restricted likelihood (absolute)',
      c.name,
      1 + fit.logRestrictedLikelihood! - c.logRestrictedLikelihood,
      1,
      1e-8,
    );
    const largest = Math.max(...c.covariance.flat().map(Math.abs));
    expectAllClose(fit.covariance!, c.covariance.flat(), 1e-5, 1e-9 * largest);
    const spread = Math.sqrt(c.sigma2);
    for (const [name, modes] of Object.entries(c.modes))
      expectAllClose(fit.effects[name]!, many(modes), 1e-5, 1e-6 * spread);
  });

  test.each(methods)('coefficients one by one, %s', (method, key) => {
    const rows = c[key];
    many(rows.df).forEach((df, j) => {
      const found = estimate(fit, unit(fit.p, j), method);
      near(`standard error, ${method}`, c.name, found.standardError, many(rows.standardError)[j]!, 1e-5);
      near(`degrees of freedom, ${method}`, c.name, found.denDf, df, 1e-5);
      near(`p of t, ${method}`, c.name, found.p, many(rows.p)[j]!, 1e-4, 1e-14); // the tail magnifies the error of t
    });
  });

  test.each(c.joint.length > 0 ? methods : [])('joint tests, %s', (method, key) => {
    for (const { [key]: set } of c.joint) {
      const found = waldTest(
        fit,
        many(set.columns).map((j) => unit(fit.p, j)),
        method,
      );
      expect(found.numDf).toBe(set.numDf);
      near(`F, ${method}`, c.name, found.f, set.f, 1e-5);
      near(`denominator degrees of freedom, ${method}`, c.name, found.denDf, set.denDf, 1e-5);
      near(`p of F, ${method}`, c.name, found.p, set.p, 1e-4, 1e-14);
    }
  });

  test.each(c.means ? methods : [])('estimated means and all pairs, %s', (method, key) => {
    const means = c.means![key];
    const found = allPairs(fit, means.weights, means.labels, method);
    found.means.forEach((m, i) => {
      near('estimated mean', c.name, m.mean, means.mean[i]!, 1e-6);
      near(`standard error of a mean, ${method}`, c.name, m.standardError, means.standardError[i]!, 1e-5);
      near(`degrees of freedom of a mean, ${method}`, c.name, m.denDf, means.df[i]!, 1e-5);
    });
    expect(found.differences).toHaveLength(many(means.pairs.p).length);
    found.differences.forEach((d, i) => {
      near('difference', c.name, d.difference, many(means.pairs.difference)[i]!, 1e-5);
      near(
        `standard error of a difference, ${method}`,
        c.name,
        d.standardError,
        many(means.pairs.standardError)[i]!,
        1e-5,
      );
      near(`degrees of freedom of a difference, ${method}`, c.name, d.denDf, many(means.pairs.df)[i]!, 1e-5);
      // R's own studentized range carries about 1e-8 absolute here
      near(
        `p of Tukey and Kramer (absolute), ${method}`,
        c.name,
        1 + d.p! - many(means.pairs.p)[i]!,
        1,
        1e-6,
      );
    });
  });
});

test.each(Object.entries(stored.nlmeLogRestrictedLikelihood))(
  'likelihood of %s as nlme gives it',
  (name, expected) => {
    near(
      'log restricted likelihood of nlme (absolute)',
      name,
      1 + fits.get(name)!.logRestrictedLikelihood! - expected,
      1,
      1e-6,
    );
  },
);
