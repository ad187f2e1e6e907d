import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { WHOLE_EFFORT } from '../../../engine/aim/effort.ts';
import type { WeighableRecipe } from '../../../engine/aim/recipe.ts';
import { RegionRecipes } from '../../../engine/aim/region-recipes.ts';
import { screen } from '../../../engine/aim/screening.ts';
import { shortlist } from '../../../engine/aim/shortlist.ts';
import { processPosterior } from '../../../engine/model/process/process-posterior.ts';
import type { LinearSolver } from '../../../engine/numeric/linear-solver.ts';
import { createRandom } from '../../../engine/numeric/random.ts';
import type { Attribute, Serving, Target } from '../../../engine/panel/observations.ts';
import { describeRegion } from '../../../engine/region/describe-region.ts';
import { isAllowed } from '../../../engine/region/region.ts';
import { loadSolver } from '../../../trials/solver.ts';

let solver: LinearSolver;
beforeAll(async () => {
  solver = await loadSolver();
});

describe('the tyre tread of Derringer and Suich (1980)', () => {
  const read = JSON.parse(readFileSync('tests/reference/aim/tyre-tread.json', 'utf8'));
  const coefficients: number[][] = read.recomputed_coefficients;
  const scored = (id: string, scale: readonly [number, number], target: Target): Attribute => {
    return { id, scale, target, tolerance: 1, weight: 1 };
  };
  /** A miss of a whole scale here is where their desirability of that response reaches nought. */
  const attributes = [
    scored('abrasion', [120, 170], { kind: 'value', value: 170 }),
    scored('modulus', [1000, 1300], { kind: 'value', value: 1300 }),
    scored('elongation', [400, 500], { kind: 'value', value: 500 }),
    scored('hardness', [60, 67.5], { kind: 'value', value: 67.5 }),
  ];
  const terms = ([a, b, c]: readonly [number, number, number]) => [
    1,
    a,
    b,
    c,
    a * a,
    b * b,
    c * c,
    a * b,
    a * c,
    b * c,
  ];
  const responses = (x: readonly [number, number, number]) =>
    coefficients.map((row) => terms(x).reduce((sum, term, i) => sum + term * row[i]!, 0));
  /** Their overall desirability: geometric mean of four linear ramps. */
  const desirability = ([y1, y2, y3, y4]: readonly number[]) => {
    const ramps = [
      (y1! - 120) / 50,
      (y2! - 1000) / 300,
      1 - Math.abs(y3! - 500) / 100,
      1 - Math.abs(y4! - 67.5) / 7.5,
    ];
    return ramps.reduce((product, ramp) => product * Math.min(1, Math.max(0, ramp)), 1) ** 0.25;
  };

  it('has their desirability at their own optimum', () => {
    expect(desirability(responses(read.published_optimum_from_memory.x))).toBeCloseTo(0.583, 3);
  });

  it('is met as well by our distance, by their own measure', () => {
    // the whole sphere of their design on a grid of 0.05; both surfaces are flat there
    const points: [number, number, number][] = [];
    for (let a = -32; a <= 32; a++)
      for (let b = -32; b <= 32; b++)
        for (let c = -32; c <= 32; c++)
          if (Math.hypot(a, b, c) * 0.05 <= 1.633) points.push([a * 0.05, b * 0.05, c * 0.05]);
    const all = points.map(responses);
    const upTo = (k: number, most: number) => Float64Array.from(all, (y) => Math.min(most, y[k]!));
    // elongation and hardness miss on both sides, mirrored onto the lower half of their ramps
    const mirrored = (k: number, middle: number) =>
      Float64Array.from(all, (y) => middle - Math.abs(y[k]! - middle));
    const means = [upTo(0, 170), upTo(1, 1300), mirrored(2, 500), mirrored(3, 67.5)];
    const nothing = new Float64Array(points.length);
    const screened = screen(
      attributes,
      means.map((mean) => ({ mean, standardError: nothing, low: mean, high: mean })),
      [],
    );
    const nearest = screened.reduce(
      (best, { expected }, i) => (expected < screened[best]!.expected ? i : best),
      0,
    );
    const theirs = all.reduce((most, y) => Math.max(most, desirability(y)), 0);
    expect(theirs).toBeGreaterThan(0.57);
    expect(desirability(all[nearest]!)).toBeGreaterThan(theirs - 0.02);
  });
});

describe('the search', () => {
  const attribute = (id: string, value: number): Attribute => {
    return { id, scale: [0, 100], target: { kind: 'value', value }, tolerance: 8, weight: 1 };
  };
  const attributes = [attribute('sweet', 47), attribute('bitter', 33)];

  it.each([
    [2, 0.01],
    [3, 0.05],
  ])('finds what every weighable ratio of %i components holds', (q, readability) => {
    const components = ['a', 'b', 'c'].slice(0, q).map((id) => ({ id, low: 0.1, high: 0.8 }));
    const space = { components, bounds: [], settings: [] };
    const region = describeRegion(space, solver);
    const batch = { grams: 4, readability, tolerance: 0.02 };
    const source = new RegionRecipes(region, batch, solver);
    const random = createRandom(8, 'exhaustive');
    const mixes = source.spread(8, random).map(({ shares }, i) => {
      return { mix: `m${i}`, blend: `m${i}`, shares: [...shares], settings: [] };
    });
    const servings = mixes.flatMap(({ mix, shares }) =>
      ['P1', 'P2', 'P3'].map((assessor): Serving => {
        const truth = [20 + 60 * shares[0]! + 20 * shares[0]! * shares[1]!, 15 + 70 * shares[1]!];
        const scores = truth.map((score) => score + 4 * random.normal());
        return { mix, assessor, session: 's', replicate: '1', position: null, scores };
      }),
    );
    const posterior = processPosterior(
      { space, region, mixes, servings, attributes, model: 'auto' },
      { search: true },
    );
    const list = shortlist(source, posterior, {
      attributes,
      reference: [null, null],
      affordable: () => true,
      effort: WHOLE_EFFORT,
      random,
    });
    const expectedAt = (recipes: readonly { shares: readonly number[]; settings: readonly number[] }[]) =>
      screen(attributes, posterior.predict(recipes), []).map(({ expected }) => expected);
    const found = Math.min(...expectedAt(list.finalists.map((i) => list.recipes[i]!)));
    const least = Math.min(
      ...expectedAt(
        everyRatio(q, Math.round(4 / readability)).filter(({ shares }) => isAllowed(region, shares, 1e-9)),
      ),
    );
    expect(found).toBeGreaterThanOrEqual(least - 1e-9);
    // a twentieth of a point of 100 is far below what anybody tastes
    expect(found - least).toBeLessThan(0.05);
  });
});

/** Every split of the steps among the components. */
function everyRatio(q: number, steps: number): Pick<WeighableRecipe, 'shares' | 'settings'>[] {
  const found: { shares: number[]; settings: number[] }[] = [];
  for (let a = 0; a <= steps; a++) {
    if (q === 2) found.push({ shares: [a / steps, (steps - a) / steps], settings: [] });
    else
      for (let b = 0; a + b <= steps; b++)
        found.push({ shares: [a / steps, b / steps, (steps - a - b) / steps], settings: [] });
  }
  return found;
}
