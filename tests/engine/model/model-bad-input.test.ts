import { describe, expect, it } from 'vitest';
import { fitRatios } from '../../../engine/model/fit-ratios.ts';
import type { FitInput } from '../../../engine/model/fit-types.ts';
import { buildPosterior } from '../../../engine/model/posterior.ts';
import { predictRatios } from '../../../engine/model/predict-ratios.ts';
import { createRandom } from '../../../engine/numeric/random.ts';
import type { Serving } from '../../../engine/panel/observations.ts';
import { attribute, expectNoNaN } from '../panel/panel-data.ts';
import { cup, loopInput, mixOf, spaceOf, wholeRegion } from './mixture-data.ts';

/** Reads, predicts and draws, and lets no NaN pass. */
function everything(input: FitInput) {
  const fit = fitRatios(input);
  const { centroid } = input.region;
  const points = [{ name: 'here', shares: centroid, settings: input.space.settings.map((s) => s.low) }];
  const predictions = predictRatios({ ...input, points, cover: points, draws: 50, random: createRandom(1) });
  const draws = buildPosterior(input).draws(points, 20, createRandom(1));
  expectNoNaN(fit);
  expectNoNaN(predictions);
  expectNoNaN(draws);
  return { fit: fit.attributes[0]!, predicted: predictions.rows[0]!.attributes[0]!, predictions };
}

const loop = loopInput('auto', { ids: ['citrus'] });
const withServings = (change: (s: Serving) => Serving | null): FitInput => ({
  ...loop,
  servings: loop.servings.map(change).filter((s) => s !== null),
});

describe('ratios that cannot be told', () => {
  it('constant scores: null with a reason, everywhere', () => {
    const { fit, predicted } = everything(withServings((s) => ({ ...s, scores: [50] })));
    expect([fit.status, fit.model, fit.rSquared]).toEqual(['constant', null, null]);
    expect(fit.blending.reason).toBe('every score is the same');
    expect(predicted).toMatchObject({
      mean: null,
      interval: null,
      chance: null,
      reason: 'every score is the same',
    });
  });

  it('no score at all', () => {
    const { fit, predicted } = everything(withServings((s) => ({ ...s, scores: [null] })));
    expect(fit.status).toBe('missing');
    expect(predicted.mean).toBeNull();
  });

  it('one mix only, or the reference only', () => {
    expect(everything(withServings((s) => (s.mix === 'v1' ? s : null))).fit.reason).toBe(
      'only one mix was scored',
    );
    const reference = withServings((s) => ({ ...s, mix: 'reference' }));
    expect(everything(reference).fit.reason).toBe('only the reference was scored');
  });

  it('fewer mixes than terms', () => {
    const three = {
      ...withServings((s) => (['v1', 'v2', 'v3', 'v4'].includes(s.mix) ? s : null)),
      model: 'quadratic' as const,
    };
    const { fit } = everything(three);
    expect(fit.status).toBe('not-estimable');
    expect(fit.reason).toContain('4 mixes were scored and the quadratic model has 6 terms');
    expect(everything({ ...three, model: 'auto' }).fit.model).toBe('linear');
  });

  it('mixes along a line cannot tell three components', () => {
    const line = (i: number) => [0.2 + 0.1 * i, 0.5 - 0.1 * i, 0.3];
    const onLine: FitInput = {
      ...loop,
      mixes: [0, 1, 2, 3].map((i) => mixOf(`m${i}`, line(i))),
      servings: [0, 1, 2, 3].flatMap((i) =>
        ['P1', 'P2'].map((p) => cup(`m${i}`, p, 40 + 3 * i + i * i + p.length)),
      ),
    };
    const { fit } = everything(onLine);
    expect(fit.status).toBe('not-estimable');
    expect(fit.reason).toContain('cannot tell c');
  });

  it('one cup of each mix and as many terms: coefficients without standard errors', () => {
    const bare: FitInput = {
      space: spaceOf(3),
      region: wholeRegion(3),
      mixes: [mixOf('m1', [1, 0, 0]), mixOf('m2', [0, 1, 0]), mixOf('m3', [0, 0, 1])],
      servings: [cup('m1', 'P1', 10), cup('m2', 'P1', 20), cup('m3', 'P1', 40)],
      attributes: [attribute('y')],
      model: 'linear',
    };
    const { fit, predicted } = everything(bare);
    expect(fit.status).toBe('no-residual');
    expect(fit.coefficients.map((c) => [c.estimate, c.standardError])).toEqual([
      [10, null],
      [20, null],
      [40, null],
    ]);
    expect(predicted.mean).toBeCloseTo(70 / 3, 10);
    expect(predicted.standardError).toBeNull();
    expect(predicted.chance).toBeNull();
  });

  it('refuses a cup whose mix was never weighed', () => {
    expect(() => fitRatios(withServings((s) => (s.mix === 'v1' ? { ...s, mix: 'nobody' } : s)))).toThrow(
      /nobody/,
    );
  });

  it('cuts predictions off at the scale, not their standard errors', () => {
    const steep: FitInput = {
      ...loop,
      servings: loop.servings.map((s) => ({ ...s, scores: [Math.max(0, s.scores[0]! - 40)] })),
      model: 'quadratic',
    };
    const far = { name: 'far', shares: [0.05, 0.9, 0.05], settings: [] };
    const { rows } = predictRatios({
      ...steep,
      points: [far],
      cover: [],
      draws: 50,
      random: createRandom(1),
    });
    const [found] = rows[0]!.attributes;
    expect(found!.clipped).toBe(true);
    expect(found!.interval![0]).toBe(0);
    expect(found!.standardError).toBeGreaterThan(0);
    expect(rows[0]!.warnings[0]).toContain('outside the allowed region');
  });
});

describe('settings', () => {
  const space = spaceOf(2, [{ id: 'dose', low: 1, high: 3, acts: 'each' }]);
  const base: Omit<FitInput, 'mixes' | 'servings'> = {
    space,
    region: wholeRegion(2),
    attributes: [attribute('y')],
    model: 'linear',
  };
  const shares = [
    [1, 0],
    [0.5, 0.5],
    [0, 1],
    [0.25, 0.75],
  ];
  const truth = (x: number[], dose: number) => 30 * x[0]! + 50 * x[1]! + (dose - 2) * (8 * x[0]! + 2 * x[1]!);
  const pour = (doses: number[]): FitInput => {
    const mixes = shares.flatMap((x, i) =>
      doses.map((d) => mixOf(`m${i}d${d}`, x, { blend: `m${i}`, settings: [d] })),
    );
    const servings = mixes.flatMap((m) =>
      ['P1', 'P2', 'P3'].map((p, a) =>
        cup(
          m.mix,
          p,
          truth([...m.shares], m.settings[0]!) +
            a +
            0.01 * ((Number(m.mix[1]) * 7 + m.settings[0]! * 4 + a * 5) % 9),
        ),
      ),
    );
    return { ...base, mixes, servings };
  };

  it('are coded -1 to 1 and crossed with every component', () => {
    const { fit } = everything(pour([1, 2, 3]));
    expect(fit.terms).toEqual(['a', 'b', 'dose*a', 'dose*b']);
    const found = fit.coefficients.map((c) => c.estimate);
    [31, 51, 8, 2].forEach((v, j) => {
      expect(Math.abs(found[j]! - v)).toBeLessThan(0.2);
    });
    expect(fit.blending.numDf).toBe(2);
  });

  it('that nobody varied are left out and warned of', () => {
    const { fit } = everything(pour([2]));
    expect(fit.terms).toEqual(['a', 'b']);
    expect(fit.aliased).toEqual(['dose*a', 'dose*b']);
    expect(fit.warnings.join()).toContain('every mix was tasted at dose 2');
  });

  it('leave whole blends out, doses and all', () => {
    const { fit } = everything(pour([1, 3]));
    expect(fit.leaveOneMixOut.rmse).not.toBeNull();
    expect(fit.leaveOneMixOut.rmse!).toBeLessThan(0.1);
  });
});

describe('fixed components and flat regions', () => {
  it('drop terms from the last backward', () => {
    const space = spaceOf(3);
    space.components = space.components.map((c, i) => (i === 2 ? { ...c, low: 0.2, high: 0.2 } : c));
    const region = { centroid: [0.4, 0.4, 0.2], low: [0, 0, 0.2], high: [0.8, 0.8, 0.2] };
    const points = [
      [0.8, 0, 0.2],
      [0, 0.8, 0.2],
      [0.4, 0.4, 0.2],
      [0.2, 0.6, 0.2],
      [0.6, 0.2, 0.2],
    ];
    const input: FitInput = {
      space,
      region,
      mixes: points.map((x, i) => mixOf(`m${i}`, x)),
      servings: points.flatMap((x, i) =>
        ['P1', 'P2', 'P3'].map((p, a) =>
          cup(`m${i}`, p, 20 + 30 * x[0]! + 60 * x[0]! * x[1]! + a * 2 + ((i * 5 + a * 3) % 4)),
        ),
      ),
      attributes: [attribute('y')],
      model: 'quadratic',
    };
    const { fit } = everything(input);
    expect(fit.terms).toEqual(['a', 'b', 'a*b']);
    expect(fit.aliased).toEqual(['c', 'a*c', 'b*c']);
    expect(fit.effects[2]).toMatchObject({ component: 'c', change: null, reason: 'the share does not vary' });
    expect(fit.blending.numDf).toBe(2);
  });
});
