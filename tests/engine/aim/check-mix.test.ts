import { describe, expect, it } from 'vitest';
import { checkMix } from '../../../engine/aim/check-mix.ts';
import type { Recipe } from '../../../engine/aim/recipe.ts';
import { RegionRecipes } from '../../../engine/aim/region-recipes.ts';
import { buildPosterior } from '../../../engine/model/posterior.ts';
import type { PanelPosterior, Point } from '../../../engine/model/posterior-types.ts';
import { predictRatios } from '../../../engine/model/predict-ratios.ts';
import { createRandom } from '../../../engine/numeric/random.ts';
import type { Attribute } from '../../../engine/panel/observations.ts';
import { describeRegion } from '../../../engine/region/describe-region.ts';
import { isAllowed } from '../../../engine/region/region.ts';
import { loadSolver } from '../../../trials/solver.ts';
import { loopInput } from '../model/mixture-data.ts';

const space = {
  components: ['a', 'b', 'c'].map((id) => ({ id, low: 0.1, high: 0.8 })),
  ...{ bounds: [], settings: [] },
};
const region = describeRegion(space, await loadSolver());
const source = new RegionRecipes(
  region,
  { grams: 4, readability: 0.05, tolerance: 0.02 },
  await loadSolver(),
);
const attributes = ['bitter', 'fresh'].map(
  (id): Attribute => ({ id, scale: [0, 100], target: null, tolerance: 8, weight: 1 }),
);

/** Two models: bitter apart by `most` times the share of a, fresh never apart. */
function posterior(most: number): PanelPosterior {
  const share = (points: readonly Point[]) => Float64Array.from(points, ({ shares }) => shares[0]!);
  const none = (points: readonly Point[]) => new Float64Array(points.length);
  return {
    attributes: attributes.map(({ id }) => ({ id, status: 'estimated', reason: null, weights: [] })),
    mixVariance: [4, 4],
    predict: (points) => {
      const mean = share(points).map((a) => 100 * a);
      const own = { mean, standardError: none(points), low: mean, high: mean };
      return [own, own];
    },
    betweenModels: (points) => [
      {
        variance: share(points).map((a) => (most * a) ** 2 / 4),
        gap: share(points).map((a) => most * a),
      },
      { variance: none(points), gap: none(points) },
    ],
    draws: () => ({ count: 0, points: 0, scores: [], reference: [] }),
    drawsApart: () => ({ count: 0, points: 0, scores: [], reference: [] }),
  };
}

const look = (most: number, apart: Recipe[] = [], affordable = () => true) =>
  checkMix({
    ...{ attributes, names: { bitter: 'Bitter' }, posterior: posterior(most), source, apart, affordable },
    random: createRandom(1),
  });

describe('a check mix', () => {
  it('stands where the models disagree most, can be weighed, and says by how much', () => {
    const found = look(20)!;
    expect(found.recipe.shares[0]).toBeCloseTo(0.8, 9);
    expect(isAllowed(region, found.recipe.shares, 1e-9)).toBe(true);
    for (const grams of found.recipe.grams) expect(grams / 0.05).toBeCloseTo(Math.round(grams / 0.05), 6);
    expect(found.attribute).toBe('bitter');
    expect(found.gap).toBeCloseTo(16, 9);
    expect(found.why).toBe(
      'The models disagree here by 16 points on Bitter: one pour tells which of them to trust.',
    );
  });

  it('is none where they agree to within the noise of one mix, or where nothing is left to make it of', () => {
    // variance (4 · 0.8)² / 4 = 2.56 against a noise of 4
    expect(look(4)).toBeNull();
    expect(look(5.1)).not.toBeNull();
    expect(look(20, [], () => false)).toBeNull();
  });

  it('keeps away from what exists', () => {
    const corner = { shares: [0.8, 0.1, 0.1], settings: [] };
    const found = look(20, [corner])!;
    // predicted means 100 times the share of a: a hundredth of the share is a point
    expect(found.recipe.shares[0]).toBeLessThanOrEqual(0.79 + 1e-9);
    expect(found.recipe.shares[0]).toBeGreaterThan(0.7);
  });
});

describe('the variance between averaged models', () => {
  it('is that of each model’s own prediction by its weight', () => {
    const input = loopInput('auto');
    const points = [{ shares: [0.4, 0.35, 0.25], settings: [] }];
    const found = buildPosterior(input);
    const between = found.betweenModels(points);
    found.attributes.forEach(({ weights }, k) => {
      const means = weights.map(({ model, weight }) => {
        const { rows } = predictRatios({
          ...{ ...input, model, cover: [], random: createRandom(1), draws: 10 },
          points: points.map((point) => ({ ...point, name: 'here' })),
        });
        return { weight, mean: rows[0]!.attributes[k]!.mean! };
      });
      const middle = means.reduce((sum, { weight, mean }) => sum + weight * mean, 0);
      const variance = means.reduce((sum, { weight, mean }) => sum + weight * (mean - middle) ** 2, 0);
      expect(between[k]!.variance[0]).toBeCloseTo(variance, 8);
      const only = means.map(({ mean }) => mean);
      expect(between[k]!.gap[0]).toBeCloseTo(Math.max(...only) - Math.min(...only), 8);
    });
  });
});
