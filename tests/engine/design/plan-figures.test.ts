import { describe, expect, it } from 'vitest';
import { planMixes } from '../../../engine/design/plan-mixes.ts';
import type { PlanInput } from '../../../engine/design/plan-types.ts';
import { createRandom } from '../../../engine/numeric/random.ts';
import type { SettingRange } from '../../../engine/region/blend-space.ts';
import { loadTestSolver, simplex, spaceOf } from '../region/spaces.ts';
import { codesOf, form, informationOf, invert, rejectionSampler, termsOf } from './independent.ts';

const solver = await loadTestSolver();
const batch = { grams: 10, readability: 0.01 };
const dose: SettingRange = { id: 'dose', low: 0.17, high: 0.33, acts: 'each' };
const acid: SettingRange = { id: 'acid', low: 0, high: 4, acts: 'whole' };

const already = [
  { mix: 'm1', blend: 'm1', shares: [0.5, 0.25, 0.25], settings: [] },
  { mix: 'm2', blend: 'm2', shares: [0.21, 0.39, 0.4], settings: [] },
];

const CASES: [string, Omit<PlanInput, 'batch' | 'seed'>][] = [
  ['quadratic on the whole simplex', { space: simplex(3), mixes: 9, model: 'quadratic' }],
  ['special cubic, cut corners', { space: spaceOf([0.1, 0, 0.05], [0.7, 0.5, 0.6]), mixes: 9 }],
  ['full cubic', { space: simplex(3), mixes: 12, model: 'full-cubic' }],
  [
    'a bound across, one component small',
    {
      space: spaceOf(
        [0.05, 0, 0.02, 0.1],
        [0.6, 0.3, 0.25, 0.6],
        [{ of: { a: 1, b: 1 }, least: 0.2, most: 0.8 }],
      ),
      mixes: 12,
    },
  ],
  ['a dose crossed with all', { space: spaceOf([0.1, 0, 0], [0.8, 0.7, 0.6], [], [dose]), mixes: 14 }],
  ['two settings', { space: spaceOf([0.1, 0, 0], [0.8, 0.7, 0.6], [], [dose, acid]), mixes: 20 }],
  ['fewer mixes than terms: prior', { space: spaceOf([0.1, 0, 0], [0.8, 0.7, 0.6]), mixes: 4 }],
  ['a model richer than its mixes', { space: simplex(4), mixes: 7, model: 'quadratic' }],
  ['more beside what is weighed', { space: spaceOf([0.1, 0, 0], [0.8, 0.7, 0.6]), mixes: 6, already }],
  [
    'log ratios, with squares and products, and a setting',
    {
      space: spaceOf([0.2, 0.004, 0.1], [0.8, 0.08, 0.7], [], [dose]),
      ...{ mixes: 20, model: 'log-ratio' as const },
    },
  ],
  [
    'by the determinant',
    { space: spaceOf([0.1, 0, 0], [0.8, 0.7, 0.6]), mixes: 8, criterion: 'determinant' },
  ],
];

/** 200,000 points: the sampling error of a mean whose spread is half of it is 0.1 %. */
const POINTS = 200_000;

describe('figures of a plan, computed again from its ratios by other means', () => {
  for (const [name, part] of CASES)
    it(name, () => {
      const input: PlanInput = { ...part, batch, seed: 3, starts: 4 };
      const plan = planMixes(input, { solver });
      const { inverse, logDet } = invert(informationOf(plan, input));
      expect(Math.abs(plan.logDeterminant! - logDet)).toBeLessThan(1e-8);
      const { mean, most } = sampled(input, plan, inverse);
      expect(Math.abs(plan.averageVariance! / mean - 1)).toBeLessThan(0.004);
      expect(plan.maximumVariance!).toBeGreaterThan(most * (1 - 1e-9));
      expect(plan.averageIsExact).toBe(part.model !== 'log-ratio');
      const terms = termsOf(plan, input.space);
      for (const mix of plan.mixes) {
        const shares = input.space.components.map(({ id }) => mix.ratios[id]!);
        const settings = input.space.settings.map(({ id }) => mix.settings[id]!);
        const leverage = form(terms(shares, codesOf(input.space, settings)), inverse);
        expect(Math.abs(leverage - mix.leverage)).toBeLessThan(1e-8);
      }
    });
});

function sampled(input: PlanInput, plan: ReturnType<typeof planMixes>, inverse: number[][]) {
  const random = createRandom(11, 'independent');
  const terms = termsOf(plan, input.space);
  const draw = rejectionSampler(input.space, () => random.uniform());
  let sum = 0;
  let most = 0;
  for (let k = 0; k < POINTS; k++) {
    const coded = input.space.settings.map(() => 2 * random.uniform() - 1);
    const value = form(terms(draw(), coded), inverse);
    sum += value;
    most = Math.max(most, value);
  }
  return { mean: sum / POINTS, most };
}
