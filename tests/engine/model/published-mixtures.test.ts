import { describe, expect, it } from 'vitest';
import { fitRatios } from '../../../engine/model/fit-ratios.ts';
import { expectClose } from '../panel/mixed/closeness.ts';
import { attribute, readReference } from '../panel/panel-data.ts';
import { cup, lattice, latticeInput, mixOf, spaceOf, wholeRegion } from './mixture-data.ts';

describe('published mixtures, one taster', () => {
  it('fits the yarn of the NIST/SEMATECH e-Handbook, section 5.5.4.2', () => {
    const [fit] = fitRatios(latticeInput('yarn', 'quadratic')).attributes;
    const estimates = [11.7, 9.4, 16.4, 19.0, 11.4, -9.6];
    const errors = [0.603692, 0.603692, 0.603692, 2.608249, 2.608249, 2.608249];
    expect(fit!.terms).toEqual(['a', 'b', 'c', 'a*b', 'a*c', 'b*c']);
    fit!.coefficients.forEach((c, j) => {
      expectClose(c.estimate, estimates[j]!, 1e-12);
      expectClose(c.standardError, errors[j]!, 0, 5e-7);
      expectClose(c.denDf, 9, 1e-14);
    });
    // R² about the mean, not 0.997726 about zero.
    expectClose(fit!.rSquared, 0.951356, 0, 5e-7);
    expectClose(fit!.blending.f, 35.2032, 0, 5e-5);
    expect([fit!.blending.numDf, fit!.blending.denDf]).toEqual([5, 9]);
    expectClose(fit!.blending.p, 1.2023825376041561e-5, 1e-9);
    expectClose(Math.sqrt(fit!.variance.residual!), 0.85375, 0, 5e-6);
  });

  it('has no p for a pure component and has one for a blend of two', () => {
    const [fit] = fitRatios(latticeInput('yarn', 'quadratic')).attributes;
    expect(fit!.coefficients.map((c) => c.p === null)).toEqual([true, true, true, false, false, false]);
  });

  it('finds the lack of fit of the linear model and none to test in the quadratic', () => {
    const [linear] = fitRatios(latticeInput('yarn', 'linear')).attributes;
    expectClose(linear!.lackOfFit.f, 32.31718, 0, 5e-6);
    expect([linear!.lackOfFit.numDf, linear!.lackOfFit.denDf, linear!.lackOfFit.against]).toEqual([
      3,
      9,
      'residual',
    ]);
    expectClose(linear!.lackOfFit.p, 3.786480999277424e-5, 1e-9);
    const [quadratic] = fitRatios(latticeInput('yarn', 'quadratic')).attributes;
    expect(quadratic!.lackOfFit.p).toBeNull();
    expect(quadratic!.lackOfFit.reason).toMatch(/nothing to test/);
    expect(quadratic!.leaveOneMixOut.rmse).toBeNull();
    expect(quadratic!.leaveOneMixOut.reason).toMatch(/^leaving out m1/);
  });

  it('knows runs with the same ratios as fresh weighings and tests against them', () => {
    const { published } = lattice('yarn');
    const mixes = published.runs.map(({ x }, i) => mixOf(`r${i}`, x));
    const servings = published.runs.map(({ y }, i) => cup(`r${i}`, 'P1', y));
    const [fit] = fitRatios({ ...latticeInput('yarn', 'linear'), mixes, servings }).attributes;
    expectClose(fit!.lackOfFit.f, 32.31718, 0, 5e-6);
    expect([fit!.lackOfFit.numDf, fit!.lackOfFit.denDf, fit!.lackOfFit.against]).toEqual([3, 9, 'blend']);
  });

  it('fits the sweetener blend of a taste panel (Cornell)', () => {
    const [fit] = fitRatios(latticeInput('sweetener', 'quadratic')).attributes;
    const { published } = lattice('sweetener');
    const { coefficients, standard_errors, R2_centered } = published.recomputed_quadratic;
    fit!.coefficients.forEach((c, j) => {
      expectClose(c.estimate, coefficients[j]!, 0, 5e-7);
      expectClose(c.standardError, standard_errors[j]!, 0, 5e-7);
    });
    expectClose(fit!.rSquared, R2_centered, 0, 5e-7);
  });

  it('takes the quadratic of the yarn by itself, though no point can be left out of it', () => {
    const [fit] = fitRatios(latticeInput('yarn', 'auto')).attributes;
    expect(fit!.model).toBe('quadratic');
    expect(fit!.warnings.join()).toContain('clearly misses');
  });

  it('returns the truth from as-weighed ratios and not from nominal ones', () => {
    const data = readReference<{
      true_coefficients: number[];
      nominal: number[][];
      grams_as_weighed: number[][];
      response: number[];
      fit_on_nominal: number[];
    }>('model/as-weighed.json');
    const shared = {
      space: spaceOf(3),
      region: wholeRegion(3),
      attributes: [attribute('y')],
      model: 'quadratic' as const,
    };
    const fitOn = (points: number[][]) =>
      fitRatios({
        ...shared,
        mixes: points.map((grams, i) => {
          const total = grams.reduce((sum, g) => sum + g, 0);
          return mixOf(
            `m${i}`,
            grams.map((g) => g / total),
          );
        }),
        servings: data.response.map((y, i) => cup(`m${i}`, 'P1', y)),
      }).attributes[0]!.coefficients;
    fitOn(data.grams_as_weighed).forEach((c, j) => {
      expectClose(c.estimate, data.true_coefficients[j]!, 0, 2e-4);
    });
    fitOn(data.nominal).forEach((c, j) => {
      expectClose(c.estimate, data.fit_on_nominal[j]!, 0, 1e-2);
    });
  });
});
