import { describe, expect, it } from 'vitest';
import { type FormulaSetup, roundFormulas } from '../../../engine/aim/formulas.ts';
import type { PanelPosterior, Point } from '../../../engine/model/posterior-types.ts';
import { createRandom } from '../../../engine/numeric/random.ts';
import type { Attribute } from '../../../engine/panel/observations.ts';

const space = {
  components: ['a', 'b', 'c'].map((id) => ({ id, low: 0, high: 1 })),
  bounds: [],
  settings: [],
};

/** One attribute that is 100 times the share of c, known to a given standard deviation. */
function posteriorOf(deviation: number): PanelPosterior {
  return {
    attributes: [{ id: 'taste', status: 'estimated', reason: null, weights: [] }],
    betweenModels: () => [],
    mixVariance: [4],
    predict: () => [],
    draws: () => ({ count: 0, points: 0, scores: [], reference: [] }),
    drawsApart({ points }: { points: readonly Point[] }, count, random) {
      const scores = new Float64Array(count * points.length);
      for (let s = 0; s < count; s++) {
        const off = deviation * random.normal();
        points.forEach(({ shares }, i) => {
          scores[s * points.length + i] = 100 * shares[2]! + off;
        });
      }
      return { count, points: points.length, scores: [scores], reference: [null] };
    },
  };
}

function setupOf(tolerance: number, more: Partial<FormulaSetup> = {}): FormulaSetup {
  const taste: Attribute = {
    id: 'taste',
    scale: [0, 100],
    target: { kind: 'value', value: 10 },
    tolerance,
    weight: 1,
  };
  return {
    space,
    attributes: [taste],
    posterior: posteriorOf(0.5),
    grams: 10,
    cover: [],
    allows: () => true,
    random: createRandom(2, 'formulas'),
    ...more,
  };
}

describe('a formula others can weigh', () => {
  it('is the fewest whole parts with nearly the best chance, and costs none of it here', () => {
    const [roundest] = roundFormulas({ shares: [0.503, 0.397, 0.1], settings: [] }, setupOf(2));
    expect(roundest!.parts).toEqual([5, 4, 1]);
    expect(roundest!.ratios).toEqual({ a: 0.5, b: 0.4, c: 0.1 });
    expect(roundest!.costs).toBe(0);
    expect(roundest!.says).toMatch(/^5 : 4 : 1, at no cost in chance; forgives 0\.1 g a pour$/);
  });

  it('keeps the chance that slips leave, as simulated apart', () => {
    const tolerance = 0.8;
    const [roundest] = roundFormulas({ shares: [0.5, 0.4, 0.1], settings: [] }, setupOf(tolerance));
    const random = createRandom(99, 'apart');
    const simulate = (slip: number) => {
      let met = 0;
      for (let s = 0; s < 40_000; s++) {
        const poured = [5, 4, 1].map((grams) => grams + slip * (2 * random.uniform() - 1));
        const score = (100 * poured[2]!) / poured.reduce((a, b) => a + b, 0) + 0.5 * random.normal();
        if (Math.abs(score - 10) <= tolerance) met++;
      }
      return met / 40_000;
    };
    // ten slips a tool, each judged in five hundred draws
    for (const { grams, chance } of roundest!.forgives)
      expect(Math.abs(chance - simulate(grams))).toBeLessThan(0.1);
    expect(roundest!.forgives[1]!.chance).toBeGreaterThan(roundest!.forgives[0]!.chance);
  });

  it('stays inside what is allowed, and is not offered where no whole parts come near', () => {
    const allows: FormulaSetup['allows'] = ({ shares }) => shares[2]! > 0.1005;
    for (const { ratios } of roundFormulas(
      { shares: [0.49, 0.4, 0.11], settings: [] },
      setupOf(4, { allows }),
    ))
      expect(ratios.c).toBeGreaterThan(0.1005);
    const nothing = setupOf(4, { allows: () => false });
    expect(roundFormulas({ shares: [0.5, 0.4, 0.1], settings: [] }, nothing)).toEqual([]);
  });
});
