import { describe, expect, it } from 'vitest';
import { aimPosterior } from '../../../engine/aim/aim-posterior.ts';
import { distanceDraws, matchChance } from '../../../engine/aim/distance-draws.ts';
import { finalDraws } from '../../../engine/aim/final-draws.ts';
import { proposeNext } from '../../../engine/aim/propose-next.ts';
import { fitRatios } from '../../../engine/model/fit-ratios.ts';
import type { ModelName } from '../../../engine/model/fit-types.ts';
import { predictRatios } from '../../../engine/model/predict-ratios.ts';
import { createRandom } from '../../../engine/numeric/random.ts';
import type { Attribute, Serving } from '../../../engine/panel/observations.ts';
import { describeRegion } from '../../../engine/region/describe-region.ts';
import { loadSolver } from '../../../trials/solver.ts';

const solver = await loadSolver();
const space = {
  components: ['a', 'b', 'c'].map((id) => ({ id, low: 0.1, high: 0.8 })),
  ...{ bounds: [], settings: [] },
};
const attributes = [60, 45].map(
  (value, k): Attribute => ({
    ...{ id: `y${k}`, scale: [0, 100], tolerance: 8, weight: 1 },
    target: { kind: 'value', value },
  }),
);
const shares = [
  [0.8, 0.1, 0.1],
  [0.1, 0.8, 0.1],
  [0.1, 0.1, 0.8],
  [0.45, 0.45, 0.1],
  [0.45, 0.1, 0.45],
  [0.1, 0.45, 0.45],
  [0.34, 0.33, 0.33],
  [0.6, 0.2, 0.2],
  [0.2, 0.6, 0.2],
];
const mixes = shares.map((own, i) => ({ mix: `m${i}`, blend: `m${i}`, shares: own, settings: [] }));

/** Bent surfaces, four tasters with habits, cups that scatter by 6. */
function tasted(reference: boolean): Serving[] {
  const random = createRandom(5, 'scores');
  const habits = [6, -4, 1, -3];
  const cups = mixes.map(({ mix, shares: [a, b] }) => ({
    mix,
    truth: [20 + 60 * a! + 70 * a! * b!, 70 - 50 * b! + 40 * a! * b!],
  }));
  return [...cups, ...(reference ? [{ mix: 'reference', truth: [58, 47] }] : [])].flatMap(({ mix, truth }) =>
    habits.map((habit, t) => ({
      ...{ mix, assessor: `P${t}`, session: 's', replicate: '1', position: null },
      scores: truth.map((score) => Math.min(100, Math.max(0, score + habit + 6 * random.normal()))),
    })),
  );
}

const region = describeRegion(space, solver);
const input = { space, region, mixes, servings: tasted(false), attributes, model: 'auto' as const };
/** The first is wanted as high as it goes: every draw is compared with the region. */
const high = attributes.map((one, k): Attribute => ({ ...one, target: k === 0 ? { kind: 'most' } : null }));
const cover = mixes.map(({ shares: own }) => ({ shares: own, settings: [] }));
const predictAt = (
  at: readonly (readonly number[])[],
  model: ModelName | 'auto' = 'auto',
  aims: Attribute[] = attributes,
) =>
  predictRatios({
    ...{ ...input, attributes: aims, model, cover, random: createRandom(1), draws: 2000 },
    points: at.map((own, i) => ({ name: `r${i}`, shares: own, settings: [] })),
  }).rows;

describe('predictions without a model named', () => {
  it('average every model that the fit weighs, the process among them', () => {
    const at = [[0.5, 0.3, 0.2]];
    const fit = fitRatios(input);
    fit.attributes.forEach(({ weights }, k) => {
      expect(weights.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 9);
      expect(weights.map(({ model }) => model)).toContain('process');
      // a weight under 3 in 100 is nearly all what draws weights toward equal, and is left out
      const kept = weights.filter(({ weight }) => weight >= 0.03);
      const total = kept.reduce((sum, { weight }) => sum + weight, 0);
      const mean = kept.reduce((sum, { model, weight }) => {
        return sum + (weight / total) * predictAt(at, model)[0]!.attributes[k]!.mean!;
      }, 0);
      expect(predictAt(at)[0]!.attributes[k]!.mean).toBeCloseTo(mean, 9);
    });
  });

  it.each([attributes, high])('say the same of a ratio whatever its company', (...aims) => {
    const [alone] = predictAt([[0.7, 0.2, 0.1]], 'auto', aims);
    const [, among] = predictAt(
      [
        [0.2, 0.3, 0.5],
        [0.7, 0.2, 0.1],
      ],
      'auto',
      aims,
    );
    expect(among!.attributes).toEqual(alone!.attributes);
    expect(among!.chance).toBe(alone!.chance);
    expect(alone!.chance).not.toBeNull();
  });
});

describe('a check mix among the next mixes', () => {
  it('is the last of those asked for, with a name of its own, or a warning says that none is needed', () => {
    const batch = { grams: 4, readability: 0.01, tolerance: 0.02 };
    const asked = { ...input, names: {}, batch, count: 2, seed: 1, settle: true };
    const { proposals, checkMix, warnings } = proposeNext(asked, { solver });
    expect(proposals).toHaveLength(2);
    expect(new Set(proposals.map(({ mix }) => mix)).size).toBe(2);
    expect(checkMix === null || proposals.every(({ disagreement }) => disagreement === undefined)).toBe(true);
    const last = proposals[1]!;
    const says = warnings.some((warning) => warning.includes('no check mix'));
    expect(last.disagreement === undefined).toBe(says);
    if (last.disagreement) expect(last.why).toContain('The models disagree here by');
  });
});

it.each([attributes, high])(
  'the best ratio is the same, figures and all, however many mixes are asked for',
  (...aims) => {
    const batch = { grams: 4, readability: 0.01, tolerance: 0.02 };
    const bestOf = (count: number) =>
      proposeNext({ ...input, attributes: aims, names: {}, batch, count, seed: 1 }, { solver }).best;
    expect(bestOf(3)).toEqual(bestOf(1));
  },
);

describe.each([false, true])('the next mixes (reference poured: %s)', (reference) => {
  const aims = reference
    ? attributes.map((one): Attribute => ({ ...one, target: { kind: 'reference' } }))
    : attributes;
  const asked = { ...input, attributes: aims, servings: tasted(reference) };
  const batch = { grams: 4, readability: 0.01, tolerance: 0.02 };
  const { best, proposals } = proposeNext({ ...asked, names: {}, batch, count: 2, seed: 1 }, { solver });
  const all = [best, ...proposals];
  const at = all.map(({ ratios }) => space.components.map(({ id }) => ratios[id]!));

  it('foretell what predict foretells by the process', () => {
    const { rows } = predictRatios({
      ...{ ...asked, model: 'process', cover: [], random: createRandom(1), draws: 100 },
      points: at.map((own, i) => ({ name: `r${i}`, shares: own, settings: [] })),
    });
    all.forEach(({ predicted }, i) => {
      for (const { id, mean, standardError, interval } of rows[i]!.attributes) {
        expect(predicted[id]!.mean).toBeCloseTo(mean!, 9);
        expect(predicted[id]!.standardError).toBeCloseTo(standardError!, 9);
        expect(predicted[id]!.interval[0]).toBeCloseTo(interval![0], 9);
        expect(predicted[id]!.interval[1]).toBeCloseTo(interval![1], 9);
      }
    });
  });

  it('tell each ratio the chance that it has among others, to the error of the draws', () => {
    const { posterior } = aimPosterior({ ...asked, names: {}, seed: 1 });
    const points = at.map((own) => ({ shares: own, settings: [] }));
    const count = 8000;
    const among = distanceDraws(aims, posterior.draws(points, count, createRandom(9)));
    all.forEach(({ chance }, i) => {
      const other = matchChance(among, i);
      const spread = (draws: number) => Math.max(0.01, other * (1 - other)) / draws;
      // four standard errors of their difference; 2000 draws are behind what is told
      expect(Math.abs(chance! - other)).toBeLessThan(4 * Math.sqrt(spread(2000) + spread(count)));
    });
  });

  it('tell each ratio the chance that it has anywhere else, to the last digit', () => {
    const { posterior } = aimPosterior({ ...asked, names: {}, seed: 1 });
    all.forEach(({ chance }, i) => {
      const points = [{ shares: at[i]!, settings: [] }];
      const draws = finalDraws(points, { attributes: aims, posterior, cover: [], seed: 1 });
      expect(matchChance(distanceDraws(aims, draws), 0)).toBe(chance);
    });
  });
});
