import { describe, expect, it } from 'vitest';
import { finishPlan, planMixes, startsOf } from '../../../engine/design/plan-mixes.ts';
import { prepareProblem } from '../../../engine/design/plan-problem.ts';
import { planStart } from '../../../engine/design/plan-start.ts';
import type { PlanInput } from '../../../engine/design/plan-types.ts';
import { createRandom } from '../../../engine/numeric/random.ts';
import type { BlendSpace } from '../../../engine/region/blend-space.ts';
import { loadTestSolver, spaceOf } from '../region/spaces.ts';

const solver = await loadTestSolver();
const batch = { grams: 10, readability: 0.001 };
const bound = { of: { a: 1, b: 0.5 }, least: 0.2, most: 0.6 };
const space = spaceOf([0.05, 0, 0.002, 0.1], [0.6, 0.3, 0.02, 0.8], [bound]);

function plan(of: BlendSpace, more: Partial<PlanInput> = {}) {
  return planMixes({ space: of, batch, mixes: 13, seed: 5, ...more }, { solver });
}

/** Two searches by other random paths come this near to each other, relative: either is this near to the best. */
const SEARCH = 3e-3;

describe('what must not change a plan', () => {
  const usual = plan(space);
  for (const criterion of ['average-variance', 'determinant'] as const)
    it(`the order of the components: ${criterion}`, () => {
      const turned = { ...space, components: [3, 1, 0, 2].map((i) => space.components[i]!) };
      const [one, other] = [plan(space, { criterion }), plan(turned, { criterion })];
      // only what was searched for is bound to be equal: equally good designs may differ in the other measure
      if (criterion === 'average-variance')
        expect(Math.abs(other.averageVariance! / one.averageVariance! - 1)).toBeLessThan(SEARCH);
      else expect(Math.abs(other.logDeterminant! - one.logDeterminant!)).toBeLessThan(1e-9);
      expect(other.corners).toHaveLength(one.corners.length);
    });

  it('a bound split in two, written in other units, or said twice: the same mixes', () => {
    const others: BlendSpace['bounds'][] = [
      [
        { ...bound, most: undefined },
        { ...bound, least: undefined },
      ],
      [{ of: { a: 1000, b: 500 }, least: 200, most: 600 }],
      [bound, bound],
    ];
    for (const bounds of others) {
      const { averageVariance, corners } = plan({ ...space, bounds });
      expect(corners).toHaveLength(usual.corners.length);
      expect(Math.abs(averageVariance! / usual.averageVariance! - 1)).toBeLessThan(SEARCH);
    }
  });

  it('grams or milligrams: the same ratios', () => {
    const { mixes } = plan(space, { batch: { grams: 10_000, readability: 1 } });
    expect(mixes.map(({ ratios }) => ratios)).toEqual(usual.mixes.map(({ ratios }) => ratios));
  });

  it('the unit of a setting: the same ratios, settings as many times larger', () => {
    const dosed = (factor: number): BlendSpace => ({
      ...space,
      settings: [{ id: 'dose', low: 0.2 * factor, high: 0.4 * factor, acts: 'whole' }],
    });
    const [one, other] = [plan(dosed(1)), plan(dosed(1000))];
    expect(other.mixes.map(({ ratios }) => ratios)).toEqual(one.mixes.map(({ ratios }) => ratios));
    other.mixes.forEach(({ settings }, k) => {
      expect(settings.dose! / 1000).toBeCloseTo(one.mixes[k]!.settings.dose!, 10);
    });
    expect(other.averageVariance).toBeCloseTo(one.averageVariance!, 10);
  });
});

describe('starts that run apart', () => {
  it('give the same bytes as one worker, however they are divided among workers and in whatever order', () => {
    const input: PlanInput = { space, batch, mixes: 12, seed: 9, starts: 8 };
    const whole = JSON.stringify(planMixes(input, { solver }));
    for (const workers of [1, 2, 4]) {
      const random = createRandom(workers, 'division');
      const starts = random.shuffle(
        Array.from({ length: startsOf(prepareProblem(input, { solver })) }, (_, k) => k),
      );
      const results = Array.from({ length: workers }, (_, w) => {
        const own = prepareProblem(structuredClone(input), { solver });
        return starts
          .filter((_, k) => k % workers === w)
          .map((start) => structuredClone(planStart(own, start)));
      });
      const merged = finishPlan(prepareProblem(input, { solver }), results.reverse().flat());
      expect(JSON.stringify(merged)).toBe(whole);
    }
  });
});
