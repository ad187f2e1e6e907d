import { describe, expect, it } from 'vitest';
import { buildPosterior } from '../../../engine/model/posterior.ts';
import { predictRatios } from '../../../engine/model/predict-ratios.ts';
import { weighingShifts, weighingUncertainty } from '../../../engine/model/weighing-error.ts';
import { createRandom } from '../../../engine/numeric/random.ts';
import { weighingGrid } from '../../../engine/region/weighing-grid.ts';
import { expectClose } from '../panel/mixed/closeness.ts';
import { attribute } from '../panel/panel-data.ts';
import { latticeInput, loopInput, spaceOf } from './mixture-data.ts';

const ROOT_SIX = Math.sqrt(6);

/** A posterior whose mean is a plain function of the shares. */
function meanOf(f: (x: readonly number[]) => number) {
  return {
    predict: (points: readonly { shares: readonly number[] }[]) => {
      const mean = Float64Array.from(points, ({ shares }) => f(shares));
      return [{ mean, standardError: mean, low: mean, high: mean }];
    },
  };
}

describe('what weighing leaves uncertain', () => {
  it('by hand: 100 times the second share, half and half, 10 g in steps of 0.1 g', () => {
    const grid = weighingGrid(spaceOf(2), { grams: 10, readability: 0.1 });
    const [[shifts]] = weighingShifts(
      meanOf(([, b]) => 100 * b!),
      [{ shares: [0.5, 0.5], settings: [] }],
      grid,
    ) as [[Float64Array]];
    // (score of the pure component - score of the mix) / grams · readability/√6
    const one = (50 / 10) * (0.1 / ROOT_SIX);
    expectClose(shifts[0]!, -one, 1e-9);
    expectClose(shifts[1]!, one, 1e-9);
    expectClose(weighingUncertainty(shifts), Math.SQRT2 * one, 1e-9);
  });

  it('a stock carries its part of the error; what is not in the mix none', () => {
    const [a, b, c] = [0.0005, 0.9995, 0];
    const batch = { grams: 10, readability: 0.01, tolerance: 0.1 };
    const at = [{ shares: [a, b, c], settings: [] }];
    const shiftsWith = (stocks: Record<string, number[]>) =>
      weighingShifts(
        meanOf((x) => 1000 * x[0]!),
        at,
        weighingGrid(spaceOf(3), batch, stocks),
      )[0]![0]!;
    const stock = shiftsWith({ a: [5] });
    expect(stock).toHaveLength(2);
    const one = ((1000 - 1000 * a) / 10) * (0.01 / ROOT_SIX);
    expectClose(stock[0]!, one * 0.05, 1e-9);
    expectClose(shiftsWith({})[0]!, one, 1e-9);
  });

  it.each([
    ['one taster, quadratic', latticeInput('sweetener', 'quadratic'), [0.5, 0.3, 0.2]],
    ['a panel, all models averaged', loopInput('auto'), [0.3, 0.45, 0.25]],
  ] as const)('as simulated weighings scatter: %s', (_, input, shares) => {
    const batch = { grams: 10, readability: 0.1 };
    const posterior = buildPosterior(input);
    const shifts = weighingShifts(posterior, [{ shares, settings: [] }], weighingGrid(input.space, batch));
    const random = createRandom(11);
    const count = 8000;
    const points = Array.from({ length: count }, () => {
      // two readings, each rounded to the step: uniform errors of half a step, nothing normal about them
      const masses = shares.map(
        (x) => batch.grams * x + batch.readability * (random.uniform() - random.uniform()),
      );
      const total = masses.reduce((sum, m) => sum + m, 0);
      return { shares: masses.map((m) => m / total), settings: [] };
    });
    posterior.predict(points).forEach(({ mean }, k) => {
      const middle = mean.reduce((sum, v) => sum + v, 0) / count;
      const variance = mean.reduce((sum, v) => sum + (v - middle) ** 2, 0) / (count - 1);
      expect(variance).toBeGreaterThan(0);
      // four Monte Carlo standard errors of a variance
      expectClose(weighingUncertainty(shifts[k]![0]!) ** 2, variance, 4 * Math.sqrt(2 / count));
    });
  });

  it('is part of standard error, interval and chance, and of nothing unless asked for', () => {
    const input = latticeInput('sweetener', 'quadratic');
    const own = attribute('y', { scale: null, tolerance: 0 });
    const points = [{ name: 'here', shares: [0.5, 0.3, 0.2], settings: [] }];
    const ask = (readability: number | null, low = 0) => {
      const aimed = { ...own, target: { kind: 'range' as const, low, high: 1000 } };
      const weighing =
        readability === null ? undefined : weighingGrid(input.space, { grams: 10, readability });
      const { rows } = predictRatios({
        ...{
          ...input,
          attributes: [aimed],
          points,
          cover: [],
          draws: 20_000,
          random: createRandom(5),
          weighing,
        },
      });
      return rows[0]!.attributes[0]!;
    };
    const plain = ask(null);
    expect(plain).not.toHaveProperty('weighing');
    const weighed = ask(2);
    expect(weighed.mean).toBe(plain.mean);
    expectClose(weighed.standardError, Math.hypot(plain.standardError!, weighed.weighing!), 1e-12);
    const reach = 1.959963984540054 * weighed.weighing!;
    expectClose(
      weighed.interval![1] - weighed.mean!,
      Math.hypot(plain.interval![1] - plain.mean!, reach),
      1e-9,
    );
    // a bar below the mean is missed more often once the balance has its say, and as often with a fine balance
    const bar = weighed.mean! - 1.5 * plain.standardError!;
    expect(ask(2, bar).chance!).toBeLessThan(ask(null, bar).chance! - 0.01);
    expect(ask(0.001, bar).chance!).toBeCloseTo(ask(null, bar).chance!, 2);
  });
});
