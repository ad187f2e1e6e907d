import { describe, expect, it } from 'vitest';
import { planMixes } from '../../../engine/design/plan-mixes.ts';
import type { PlanInput } from '../../../engine/design/plan-types.ts';
import { fitRatios } from '../../../engine/model/fit-ratios.ts';
import { createRandom } from '../../../engine/numeric/random.ts';
import type { SettingRange } from '../../../engine/region/blend-space.ts';
import { screeningPoints } from '../../../engine/region/cox-direction.ts';
import { describeRegion } from '../../../engine/region/describe-region.ts';
import { isAllowed } from '../../../engine/region/region.ts';
import { loadTestSolver, simplex, spaceOf } from '../region/spaces.ts';
import { informationOf, invert } from './independent.ts';

const solver = await loadTestSolver();
const dose: SettingRange = { id: 'dose', low: 0.2, high: 0.4, acts: 'each' };
const space = { ...spaceOf([0.1, 0, 0.05], [0.7, 0.6, 0.6]), settings: [dose] };
const base: PlanInput = { space, batch: { grams: 5, readability: 0.01 }, mixes: 12, seed: 1, starts: 6 };

describe('several mixes from each bottle', () => {
  it('share its grams and differ in settings, as many as asked, and the figures are those of these mixes', () => {
    for (const [mixes, perBottle] of [
      [12, 3],
      [11, 2],
      [20, 2],
    ] as const) {
      const input = { ...base, mixes, perBottle, atMost: { b: 7 } };
      const plan = planMixes(input, { solver });
      const names = [...new Set(plan.mixes.map(({ blend }) => blend))];
      const bottles = names.map((name) => plan.mixes.filter(({ blend }) => blend === name));
      expect(bottles.length).toBe(Math.ceil(mixes / perBottle));
      const sizes = bottles.map(({ length }) => length).sort((a, b) => b - a);
      expect(sizes.slice(0, -1).every((size) => size === perBottle)).toBe(true);
      let taken = 0;
      for (const poured of bottles) {
        expect(new Set(poured.map(({ grams }) => JSON.stringify(grams))).size).toBe(1);
        expect(new Set(poured.map(({ settings }) => settings.dose)).size).toBe(poured.length);
        taken += poured[0]!.grams.b!;
      }
      expect(taken).toBeLessThanOrEqual(7 + 1e-9);
      const { logDet } = invert(informationOf(plan, input));
      expect(plan.logDeterminant!).toBeCloseTo(logDet, 7);
    }
  });

  it('as good as the best of all such plans, on a coarse balance', () => {
    const line = { ...simplex(2), settings: [dose] };
    const batch = { grams: 1, readability: 0.125 };
    const input: PlanInput = {
      ...{ space: line, batch, mixes: 6, perBottle: 2, model: 'quadratic' },
      ...{ criterion: 'determinant', seed: 1 },
    };
    const plan = planMixes(input, { solver });
    const terms = (a: number, z: number) => [a, 1 - a, a * (1 - a), z * a, z * (1 - a), z * z];
    const pairs = [
      [-1, 0],
      [-1, 1],
      [0, 1],
    ] as const;
    const bottles = Array.from({ length: 9 }, (_, k) =>
      pairs.map((codes) => codes.map((z) => terms(k / 8, z))),
    );
    let best = Number.NEGATIVE_INFINITY;
    for (let i = 0; i < 9; i++)
      for (let j = i + 1; j < 9; j++)
        for (let k = j + 1; k < 9; k++)
          for (const x of bottles[i]!)
            for (const y of bottles[j]!)
              for (const z of bottles[k]!) {
                const rows = [...x, ...y, ...z];
                const sum = rows[0]!.map((_, r) =>
                  rows[0]!.map((__, c) => rows.reduce((all, row) => all + row[r]! * row[c]!, 0)),
                );
                const { logDet } = invert(sum);
                if (logDet > best) best = logDet;
              }
    expect(plan.logDeterminant!).toBeCloseTo(best, 9);
  });

  it('asked of nothing that varies, with repeats, or with too few bottles for the components: refused', () => {
    const ask = (more: Partial<PlanInput>) => () => planMixes({ ...base, perBottle: 3, ...more }, { solver });
    expect(ask({ perBottle: 4 })).toThrow(/perBottle: found 4, allowed at most 3/);
    expect(ask({ space: { ...space, settings: [] } })).toThrow(/perBottle: found 3, allowed at most 1/);
    expect(ask({ replicated: 1 })).toThrow(/replicated: found 1, allowed none/);
    expect(ask({ mixes: 6 })).toThrow(/enough for 3 bottles/);
  });
});

const sorted = (points: number[][]) => points.map((p) => p.map((v) => v.toFixed(9)).join()).sort();

describe('screening', () => {
  it('on the whole simplex the points of Snee and Marquardt (1976): vertices, end points, interior points, centroid', () => {
    for (const q of [3, 5, 8]) {
      const range = Array.from({ length: q }, (_, i) => i);
      const expected = [
        ...range.map((i) => range.map((j) => (i === j ? 1 : 0))),
        ...range.map((i) => range.map((j) => (i === j ? 0 : 1 / (q - 1)))),
        ...range.map((i) => range.map((j) => (i === j ? (q + 1) / (2 * q) : 1 / (2 * q)))),
        range.map(() => 1 / q),
      ];
      expect(sorted(screeningPoints(describeRegion(simplex(q), solver)))).toEqual(sorted(expected));
    }
  });

  it('in a bounded region: inside, on its boundary, others in the ratios that they have at the centroid', () => {
    const region = describeRegion(spaceOf([0.1, 0, 0.05, 0.1], [0.7, 0.6, 0.3, 0.5]), solver);
    const points = screeningPoints(region);
    expect(points).toHaveLength(13);
    for (const [k, point] of points.entries()) {
      expect(isAllowed(region, point, 1e-9)).toBe(true);
      if (k === 12) continue;
      const rest = point.flatMap((v, j) => (j === k % 4 ? [] : [v / region.centroid[j]!]));
      expect(Math.max(...rest) - Math.min(...rest)).toBeLessThan(1e-9);
    }
  });

  // Σ xᵢ² and Σ xᵢxⱼ over the 3q + 1 points, so that X'X = α I + β J
  const q = 5;
  const squares = 1 + ((q + 1) ** 2 + q - 1) / (4 * q * q) + 1 / (q * q) + 1 / (q - 1);
  const cross = (2 * (q + 1) + q - 2) / (4 * q * q) + 1 / (q * q) + (q - 2) / (q - 1) ** 2;
  const input: PlanInput = {
    ...{ space: simplex(q), batch: { grams: 10, readability: 0.01 }, mixes: 3 * q + 1 },
    ...{ screen: true, seed: 1, starts: 2 },
  };

  it('all of them planned: the determinant is that of the design in closed form; fewer are chosen among them', () => {
    const plan = planMixes(input, { solver });
    expect(plan.model).toBe('linear');
    expect(new Set(plan.mixes.map(({ blend }) => blend)).size).toBe(16);
    const alpha = squares - cross;
    expect(plan.logDeterminant!).toBeCloseTo((q - 1) * Math.log(alpha) + Math.log(alpha + q * cross), 9);
    const points = new Set(sorted(screeningPoints(describeRegion(simplex(q), solver))));
    const few = planMixes({ ...input, mixes: 8 }, { solver }).mixes.map(({ ratios }) =>
      Object.values(ratios),
    );
    expect(new Set(sorted(few)).size).toBe(8);
    for (const point of sorted(few)) expect(points.has(point)).toBe(true);
    expect(() => planMixes({ ...input, mixes: 17 }, { solver })).toThrow(/at most 16 different ones/);
    expect(() => planMixes({ ...input, model: 'quadratic' }, { solver })).toThrow(/linear, which screening/);
  });

  it('read by the linear fit, who belongs shows: an effect has the error that the design gives in closed form', () => {
    const plan = planMixes(input, { solver });
    const random = createRandom(4, 'scores');
    const truth = [50, 50, 50, 80, 50];
    const mixes = plan.mixes.map(({ mix, blend, ratios }) => ({
      ...{ mix, blend, settings: [] },
      shares: input.space.components.map(({ id }) => ratios[id]!),
    }));
    const servings = mixes.map(({ mix, shares }) => ({
      ...{ mix, assessor: 'P1', session: null, replicate: null, position: null },
      scores: [shares.reduce((sum, share, i) => sum + truth[i]! * share, 0) + 2 * random.normal()],
    }));
    const fit = fitRatios({
      ...{ space: input.space, region: describeRegion(input.space, solver), mixes, model: 'linear' },
      servings,
      attributes: [{ id: 'zest', scale: [0, 100], target: null, tolerance: 8, weight: 1 }],
    }).attributes[0]!;
    const sigma = Math.sqrt(fit.variance.residual!);
    // Cox's effect over the whole width is bᵢ less the mean of the others: variance σ² (1 + 1 / (q - 1)) / α
    const error = sigma * Math.sqrt((1 + 1 / (q - 1)) / (squares - cross));
    for (const { standardError, change, component, p } of fit.effects) {
      expect(standardError!).toBeCloseTo(error, 9);
      const true_ = component === 'd' ? 30 : -7.5;
      expect(Math.abs(change! - true_)).toBeLessThan(4 * error);
      if (component === 'd') expect(p!).toBeLessThan(1e-6);
    }
  });
});
