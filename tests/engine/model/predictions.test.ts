import { describe, expect, it } from 'vitest';
import { fitRatios } from '../../../engine/model/fit-ratios.ts';
import { buildPosterior } from '../../../engine/model/posterior.ts';
import { predictRatios } from '../../../engine/model/predict-ratios.ts';
import { createRandom } from '../../../engine/numeric/random.ts';
import { expectClose } from '../panel/mixed/closeness.ts';
import { attribute, readReference } from '../panel/panel-data.ts';
import { latticeInput, loopInput } from './mixture-data.ts';

interface TargetCase {
  x: number[];
  target: [number, number];
  predicted: number;
  se_mean: number;
  P_true_mean_in_target: number;
}

describe('chance of the true mean within a target', () => {
  const { cases } = readReference<{ cases: TargetCase[] }>('model/target-probability.json');

  it.each(cases.map((c) => [`${c.x.join(' ')} in ${c.target.join(' to ')}`, c] as const))(
    '%s',
    (_, expected) => {
      const [low, high] = expected.target;
      // The file prints a third as 0.333333.
      const total = expected.x.reduce((sum, v) => sum + v, 0);
      const shares = expected.x.map((v) => v / total);
      const range = attribute('y', { scale: null, target: { kind: 'range', low, high }, tolerance: 0 });
      const { rows } = predictRatios({
        ...latticeInput('sweetener', 'quadratic'),
        attributes: [range],
        points: [{ name: 'here', shares, settings: [] }],
        cover: [],
        draws: 20_000,
        random: createRandom(7),
      });
      const [found] = rows[0]!.attributes;
      expectClose(found!.mean, expected.predicted, 0, 6e-6);
      expectClose(found!.standardError, expected.se_mean, 0, 6e-7);
      // Monte Carlo error: four standard errors of a share of 20,000 draws.
      expectClose(found!.chance, expected.P_true_mean_in_target, 0, 4 * Math.sqrt(0.25 / 20_000));
      expect(rows[0]!.chance).toBe(found!.chance);
    },
  );

  it('gives Student intervals with n - p degrees of freedom to one taster', () => {
    const [p] = buildPosterior(latticeInput('sweetener', 'quadratic')).predict([
      { shares: [0.5, 0.25, 0.25], settings: [] },
    ]);
    // qt(0.975, 9) = 2.262157162740992 (R 4.2.2)
    expectClose(p!.high[0]! - p!.mean[0]!, 2.262157162740992 * p!.standardError[0]!, 1e-9);
  });
});

describe('the joint posterior', () => {
  const input = loopInput('auto');
  const points = [
    { shares: [0.4, 0.3, 0.3], settings: [] },
    { shares: [0.5, 0.2, 0.3], settings: [] },
    { shares: [0.25, 0.6, 0.15], settings: [] },
  ];
  const posterior = buildPosterior(input);

  it('draws with the mean and the interval that it predicts', () => {
    const count = 20_000;
    const { scores } = posterior.draws(points, count, createRandom(3));
    posterior.predict(points).forEach((predicted, k) => {
      points.forEach((_, i) => {
        const own = Array.from({ length: count }, (_, d) => scores[k]![d * points.length + i]!);
        const _mean = own.reduce((s, v) => s + v, 0) / count;
        const sorted = Float64Array.from(own).sort();
        // a process's interval is that of its whole spread, its draws are of each surface by itself
        const room = 0.1 * (predicted.high[i]! - predicted.low[i]!);
        expectClose(sorted[Math.floor(0.025 * count)]!, predicted.low[i]!, 0, room);
        expectClose(sorted[Math.floor(0.975 * count)]!, predicted.high[i]!, 0, room);
      });
    });
  });

  it('says the same of a point among few and among many', () => {
    const many = Array.from({ length: 200 }, (_, i) => points[i % 3]!);
    const rough = posterior.predict(many);
    posterior.predict(points).forEach((exact, k) => {
      points.forEach((_, i) => {
        expectClose(rough[k]!.mean[i]!, exact.mean[i]!, 1e-9);
        expectClose(rough[k]!.standardError[i]!, exact.standardError[i]!, 1e-7);
      });
    });
  });

  it('is the same for the same seed, and with a sum of terms a point does not depend on its company', () => {
    const a = posterior.draws(points, 500, createRandom(5));
    const b = posterior.draws(points, 500, createRandom(5));
    expect(a.scores).toEqual(b.scores);
    expect(posterior.draws(points, 500, createRandom(6)).scores[0]![0]).not.toBe(a.scores[0]![0]);
    const terms = buildPosterior(loopInput('quadratic'));
    const three = terms.draws(points, 500, createRandom(5));
    const alone = terms.draws([points[1]!], 500, createRandom(5));
    for (let d = 0; d < 500; d++) expectClose(alone.scores[2]![d]!, three.scores[2]![3 * d + 1]!, 1e-12);
  });

  it('draws apart: what a point gets does not depend on its company, to the last digit, and the cover is the same', () => {
    const cover = [points[2]!, { shares: points[0]!.shares.map(() => 1 / 3), settings: points[0]!.settings }];
    const all = posterior.drawsApart({ points, cover }, 500, createRandom(5));
    expect(all.points).toBe(5);
    points.forEach((point, i) => {
      const alone = posterior.drawsApart({ points: [point], cover }, 500, createRandom(5));
      for (let d = 0; d < 500; d++)
        all.scores.forEach((own, k) => {
          expect(alone.scores[k]![3 * d]).toBe(own[5 * d + i]);
          expect(alone.scores[k]![3 * d + 1]).toBe(own[5 * d + 3]);
          expect(alone.scores[k]![3 * d + 2]).toBe(own[5 * d + 4]);
        });
    });
  });

  it('draws the reference together with the mixes', () => {
    const withReference = buildPosterior(loopInput('quadratic', { reference: 8 }));
    const { reference } = withReference.draws(points, 2000, createRandom(2));
    expect(reference.every((r) => r !== null && r.length === 2000)).toBe(true);
    expect(posterior.draws(points, 10, createRandom(2)).reference).toEqual([null, null, null, null]);
    const { attributes } = fitRatios(loopInput('quadratic', { reference: 8 }));
    attributes.forEach(({ reference: fitted }, k) => {
      const own = reference[k]!.reduce((sum, score) => sum + score / 2000, 0);
      // four standard errors of 2000 draws, a little more for Student's tails
      expectClose(own, fitted!.mean!, 0, (5 * fitted!.standardError!) / Math.sqrt(2000));
    });
  });

  it('adds the variance of new assessors for tasters at large, and drops what is known of these', () => {
    const at = loopInput('quadratic', { ids: ['green'] });
    const [panel] = buildPosterior(at).predict(points);
    const [others] = buildPosterior(at, { for: 'population' }).predict(points);
    points.forEach((_, i) => {
      expect(others!.standardError[i]!).toBeGreaterThan(1.3 * panel!.standardError[i]!);
    });
  });
});
