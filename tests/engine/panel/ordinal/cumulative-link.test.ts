import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { categoryShares } from '../../../../engine/panel/ordinal/category-shares.ts';
import { fitCumulativeLink, type OrdinalProblem } from '../../../../engine/panel/ordinal/cumulative-link.ts';
import { gaussHermite } from '../../../../engine/panel/ordinal/gauss-hermite.ts';
import { LINKS, type LinkName } from '../../../../engine/panel/ordinal/links.ts';
import { ordinalLikelihood } from '../../../../engine/panel/ordinal/ordinal-likelihood.ts';
import { expectAllClose, expectClose } from '../mixed/closeness.ts';

interface Summary {
  thresholds: number[];
  estimates: number[];
  se: number[];
  logLik: number;
}
interface Case {
  name: string;
  link: LinkName;
  y: number[];
  x: number[][];
  names: string[];
  assessor: number[];
  plain: Summary;
  mixed: Summary & { variance: number; modes: number[] };
}
const { cases }: { cases: Case[] } = JSON.parse(
  readFileSync('tests/reference/ordinal/cumulative-link.json', 'utf8'),
);
const wine = JSON.parse(readFileSync('tests/reference/ordinal/wine.json', 'utf8'));

function problemOf(c: Case, random: boolean): OrdinalProblem {
  const assessor = { levels: Int32Array.from(c.assessor), count: Math.max(...c.assessor) + 1 };
  const base = { y: Int32Array.from(c.y), x: Float64Array.from(c.x.flat()), names: c.names, link: c.link };
  return random ? { ...base, assessor } : base;
}

describe.each(cases)('$name against the package ordinal', (c) => {
  test('without random assessors', () => {
    const fit = fitCumulativeLink(problemOf(c, false));
    expectAllClose(fit.thresholds, c.plain.thresholds, 1e-6);
    expectAllClose(
      fit.coefficients.map((b) => b.estimate),
      c.plain.estimates,
      1e-6,
    );
    expectClose(fit.logLikelihood, c.plain.logLik, 1e-9);
    const size = c.plain.se.length;
    c.plain.se.forEach((se, i) => {
      expectClose(Math.sqrt(fit.covariance![i * (size + 1)]!), se, 1e-5);
    });
    expect(fit.assessorVariance).toBeNull();
  });

  test('with random assessors', () => {
    const fit = fitCumulativeLink(problemOf(c, true));
    expectClose(fit.logLikelihood, c.mixed.logLik, 1e-7);
    // the package stops at gradients of about 1e-5, which is what these digits are
    expectAllClose(fit.thresholds, c.mixed.thresholds, 1e-4, 1e-5);
    expectAllClose(
      fit.coefficients.map((b) => b.estimate),
      c.mixed.estimates,
      1e-4,
      1e-5,
    );
    expectClose(fit.assessorVariance, c.mixed.variance, 1e-3);
    expectAllClose(fit.effects, c.mixed.modes, 1e-3, 1e-3);
    const size = c.plain.se.length;
    c.mixed.se.forEach((se, i) => {
      expectClose(Math.sqrt(fit.covariance![i * (size + 1)]!), se, 1e-3);
    });
  });
});

test('published wine values: exact without judges; with judges near those of the Laplace approximation', () => {
  const y = Int32Array.from(wine.rows, (r: { rating: number }) => r.rating);
  const x = Float64Array.from(
    wine.rows.flatMap((r: { temp: string; contact: string }) => [
      r.temp === 'warm' ? 1 : 0,
      r.contact === 'yes' ? 1 : 0,
    ]),
  );
  const names = ['tempwarm', 'contactyes'];
  const plain = fitCumulativeLink({ y, x, names });
  expectAllClose(plain.thresholds, Object.values(wine.clm.thresholds), 1e-6);
  expectAllClose(
    plain.coefficients.map((b) => b.estimate),
    Object.values(wine.clm.beta),
    1e-6,
  );
  expectClose(plain.logLikelihood, wine.clm.logLik, 1e-9);
  const levels = Int32Array.from(wine.rows, (r: { judge: number }) => r.judge - 1);
  const mixed = fitCumulativeLink({ y, x, names, assessor: { levels, count: 9 } });
  // Laplace's approximation is off by about a hundredth with eight ratings a judge
  expectAllClose(
    mixed.coefficients.map((b) => b.estimate),
    Object.values(wine.clmm_laplace.beta),
    0.02,
  );
  expectClose(mixed.assessorVariance, wine.clmm_laplace.judge_variance, 0.05);
});

test.each(['logit', 'probit'] as const)('gradient of the likelihood against differences, %s', (link) => {
  const c = cases[3]!;
  const groups = Array.from({ length: 20 }, (_, a) =>
    Int32Array.from(c.assessor.flatMap((g, i) => (g === a ? [i] : []))),
  );
  const data = {
    y: Int32Array.from(c.y, (v) => v / 2 - 1),
    x: Float64Array.from(c.x.flat()),
    p: 2,
    categories: 5,
    groups,
    link: LINKS[link],
  };
  const at = Float64Array.of(-2, -0.6, 0.6, 1.9, 0.8, -0.3, 0.9);
  for (const quadrature of [null, gaussHermite(25)]) {
    const parameters = quadrature ? at : at.slice(0, 6);
    const { gradient } = ordinalLikelihood(data, parameters, quadrature)!;
    gradient.forEach((g, k) => {
      const moved = (h: number) =>
        ordinalLikelihood(
          data,
          parameters.map((v, i) => (i === k ? v + h : v)),
          quadrature,
        )!.value;
      expectClose(g, (moved(1e-5) - moved(-1e-5)) / 2e-5, 1e-6, 1e-6);
    });
  }
  expect(ordinalLikelihood(data, Float64Array.of(1, 0, 2, 3, 0, 0), null)).toBeNull();
});

test('Gauss-Hermite nodes integrate polynomials exactly', () => {
  const { nodes, weights } = gaussHermite(10);
  const moment = (k: number) => nodes.reduce((sum, x, i) => sum + weights[i]! * x ** k, 0);
  expectClose(moment(0), Math.sqrt(Math.PI), 1e-13);
  expectClose(moment(6), (15 / 8) * Math.sqrt(Math.PI), 1e-12);
  expectClose(moment(3), 0, 0, 1e-13);
});

describe('invariance and what cannot be estimated', () => {
  const c = cases[0]!;
  const fit = fitCumulativeLink(problemOf(c, true));

  test('names of categories and assessors and the order of rows do not matter', () => {
    const order = c.y.map((_, i) => (i * 31) % c.y.length);
    const other = fitCumulativeLink({
      y: Int32Array.from(order, (i) => 10 * c.y[i]! - 7),
      x: Float64Array.from(order.flatMap((i) => c.x[i]!)),
      names: c.names,
      assessor: { levels: Int32Array.from(order, (i) => 8 - c.assessor[i]!), count: 9 },
    });
    expectClose(other.logLikelihood, fit.logLikelihood!, 1e-10);
    expectAllClose(other.thresholds, fit.thresholds, 1e-6);
    expectAllClose([...other.effects].reverse(), [...fit.effects], 1e-5, 1e-6);
  });

  test('a scale read from the other end turns every sign', () => {
    const turned = fitCumulativeLink({ ...problemOf(c, true), y: Int32Array.from(c.y, (v) => 6 - v) });
    expectAllClose(
      turned.coefficients.map((b) => -b.estimate),
      fit.coefficients.map((b) => b.estimate),
      1e-6,
    );
    expectAllClose(turned.thresholds.map((t) => -t).reverse(), fit.thresholds, 1e-6);
  });

  test('shares of categories sum to one, and over all assessors they are flatter', () => {
    const typical = categoryShares(fit, [1, 1])!;
    const population = categoryShares(fit, [1, 1], 'population')!;
    for (const shares of [typical, population])
      expectClose(
        shares.reduce((a, b) => a + b, 0),
        1,
        1e-10,
      );
    expect(Math.max(...population)).toBeLessThan(Math.max(...typical));
  });

  test('assessors who do not differ get a variance of zero', () => {
    // every assessor gives every rating once: nothing is left between assessors
    const y = Int32Array.from({ length: 30 }, (_, i) => (i + Math.floor(i / 3)) % 3);
    const x = Float64Array.from({ length: 30 }, (_, i) => (i % 5) - 2);
    const levels = Int32Array.from({ length: 30 }, (_, i) => Math.floor(i / 3));
    const found = fitCumulativeLink({ y, x, names: ['x'], assessor: { levels, count: 10 } });
    expect(found.assessorVariance).toBe(0);
    expectClose(found.logLikelihood, fitCumulativeLink({ y, x, names: ['x'] }).logLikelihood!, 1e-12);
  });

  test('one category, split categories, dependent columns', () => {
    const same = { y: new Int32Array(4).fill(3), x: Float64Array.of(1, 2, 3, 4), names: ['x'] };
    expect(fitCumulativeLink(same)).toMatchObject({
      status: 'not-estimable',
      reason: expect.stringContaining('one category'),
    });
    const split = { y: Int32Array.of(1, 1, 1, 2, 2, 2), x: Float64Array.of(1, 2, 3, 4, 5, 6), names: ['x'] };
    expect(fitCumulativeLink(split).status).toBe('not-estimable');
    const twice = {
      y: Int32Array.of(1, 2, 1, 2, 3, 1),
      x: Float64Array.of(1, 2, 2, 4, 3, 6, 4, 8, 5, 10, 6, 12),
      names: ['x', 'x2'],
    };
    expect(fitCumulativeLink(twice).status).toBe('not-estimable');
    expect(() => fitCumulativeLink({ ...same, x: Float64Array.of(1) })).toThrow(/x/);
  });
});
