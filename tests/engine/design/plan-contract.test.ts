import { describe, expect, it } from 'vitest';
import { planMixes } from '../../../engine/design/plan-mixes.ts';
import type { PlanInput } from '../../../engine/design/plan-types.ts';
import { logRatioSet } from '../../../engine/model/log-ratio-set.ts';
import type { SettingRange } from '../../../engine/region/blend-space.ts';
import { describeRegion } from '../../../engine/region/describe-region.ts';
import { loadTestSolver, simplex, spaceOf } from '../region/spaces.ts';

const solver = await loadTestSolver();
const batch = { grams: 10, readability: 0.01 };
const dose: SettingRange = { id: 'dose', low: 0.17, high: 0.33, acts: 'each' };

function plan(part: Partial<PlanInput> & Pick<PlanInput, 'space' | 'mixes'>) {
  return planMixes({ batch, seed: 1, starts: 2, ...part }, { solver });
}

const names = (terms: readonly string[]) => terms.join(' ');

describe('the model where none is asked for', () => {
  const three = spaceOf([0.1, 0, 0.05], [0.7, 0.6, 0.6]);
  it('the richest whose terms + 2 do not exceed the mixes', () => {
    expect([5, 7, 8, 9, 30].map((mixes) => plan({ space: three, mixes }).model)).toEqual([
      'linear',
      'linear',
      'quadratic',
      'special-cubic',
      'special-cubic',
    ]);
  });

  it('else linear, with prior information on the terms of the quadratic, which the output states', () => {
    const few = plan({ space: three, mixes: 3 });
    expect(few.model).toBe('linear');
    expect(names(few.terms)).toBe('a b c a*b a*c b*c');
    expect(few.prior!.terms).toEqual(['a*b', 'a*c', 'b*c']);
    expect(few.prior!.precision.map((v) => v > 0)).toEqual([false, false, false, true, true, true]);
    expect(few.warnings.some((w) => w.includes('3 mixes settle 3 of 6 terms'))).toBe(true);
    expect(plan({ space: three, mixes: 5 }).prior).toBeUndefined();
  });

  it('settings count: components, then settings crossed with each', () => {
    const space = spaceOf([0.1, 0, 0.05], [0.7, 0.6, 0.6], [], [dose]);
    const eight = plan({ space, mixes: 8 });
    expect(eight.prior).toBeUndefined();
    expect(names(eight.terms)).toBe('a b c dose*a dose*b dose*c');
    const seven = plan({ space, mixes: 7 });
    expect(seven.model).toBe('linear');
    expect(names(seven.terms)).toBe('a b c a*b a*c b*c dose*a dose*b dose*c dose*dose');
  });
});

describe('the model asked for', () => {
  it('with fewer mixes than terms: planned with a prior and a warning', () => {
    const { model, prior, warnings, averageVariance } = plan({
      space: simplex(4),
      mixes: 6,
      model: 'quadratic',
    });
    expect(model).toBe('quadratic');
    expect(prior!.terms).toEqual(['a*b', 'a*c', 'a*d', 'b*c', 'b*d', 'c*d']);
    expect(warnings.some((w) => w.includes('6 mixes settle 4 of 10 terms'))).toBe(true);
    expect(averageVariance).not.toBeNull();
  });

  it('with as many mixes as terms: no prior', () => {
    expect(plan({ space: simplex(3), mixes: 6, model: 'quadratic' }).prior).toBeUndefined();
  });

  it('fewer mixes than components are refused', () => {
    expect(() => plan({ space: simplex(4), mixes: 3 })).toThrow(/mixes: found 3, allowed at least 4/);
    expect(() => plan({ space: simplex(4), mixes: 3, model: 'linear' })).toThrow(
      /too-few|allowed at least 4/,
    );
  });
});

describe('log ratios', () => {
  const space = spaceOf([0.2, 0.004, 0.1], [0.8, 0.08, 0.7]);
  const { low, high, centroid } = describeRegion(space, solver);
  const widths = { low, high, centroid };
  it('the terms that the fit has; squares and products where the mixes are many enough', () => {
    const [few, many] = [8, 9].map((mixes) => plan({ space, mixes, model: 'log-ratio' }));
    expect(names(few!.terms)).toBe(names(logRatioSet(space, widths, 1).names));
    expect(names(many!.terms)).toBe(names(logRatioSet(space, widths, 2).names));
    expect(few!.averageIsExact).toBe(false);
  });

  it('spread the small component evenly over its decades: a mix near its geometric middle', () => {
    const { mixes } = plan({
      space,
      mixes: 12,
      model: 'log-ratio',
      batch: { grams: 10, readability: 0.001 },
    });
    const shares = mixes.map(({ ratios }) => ratios.b!);
    expect(shares.some((share) => share > 0.01 && share < 0.03)).toBe(true);
    expect(Math.min(...shares)).toBe(0.004);
    expect(Math.max(...shares)).toBe(0.08);
  });
});

describe('terms that the region cannot tell apart', () => {
  it('are dropped from the last backward: a component that is fixed', () => {
    const fixed = plan({ space: spaceOf([0.2, 0, 0], [0.2, 0.8, 0.8]), mixes: 6, model: 'quadratic' });
    expect(fixed.aliased).toEqual(['c', 'a*b', 'a*c']);
    expect(names(fixed.terms)).toBe('a b b*c');
    expect(fixed.logDeterminant).not.toBeNull();
  });

  it('a flat region: a = 2 b', () => {
    const space = spaceOf([0, 0, 0], [1, 1, 1], [{ of: { a: 1, b: -2 }, least: 0, most: 0 }]);
    const flat = plan({ space, mixes: 4, model: 'linear' });
    expect(flat.aliased).toEqual(['b']);
    expect(flat.warnings.some((w) => w.includes('one direction to vary in, not 2'))).toBe(true);
    expect(flat.corners).toHaveLength(2);
    for (const { grams } of flat.mixes) expect(Math.abs(grams.a! - 2 * grams.b!)).toBeLessThan(1e-9);
  });

  it('a single point', () => {
    const point = plan({ space: spaceOf([0.2, 0.3, 0.5], [0.2, 0.3, 0.5]), mixes: 3 });
    expect(point.aliased.slice(0, 2)).toEqual(['b', 'c']);
    expect(point.corners).toEqual([[0.2, 0.3, 0.5]]);
    expect(point.mixes.map(({ grams }) => grams)).toEqual(new Array(3).fill({ a: 2, b: 3, c: 5 }));
    expect(point.averageVariance).toBeCloseTo(1 / 3, 10);
    expect(point.warnings.some((w) => w.includes('single blend'))).toBe(true);
  });
});

describe('repeats, bottles and what is weighed already', () => {
  const space = spaceOf([0.1, 0, 0.05], [0.7, 0.6, 0.6]);
  it('replicated: so many fresh weighings under names of their own', () => {
    const { mixes } = plan({ space, mixes: 10, replicated: 3 });
    const again = mixes.filter(({ repeats }) => repeats !== undefined);
    expect(again).toHaveLength(3);
    for (const { mix, blend, repeats, ratios } of again) {
      expect(blend).toBe(mix);
      expect(mixes.find((other) => other.mix === repeats)!.ratios).toEqual(ratios);
    }
    const others = mixes.filter(({ repeats }) => repeats === undefined);
    expect(new Set(others.map(({ ratios }) => JSON.stringify(ratios))).size).toBe(7);
  });

  it('mixes that share a bottle differ in settings alone', () => {
    const { mixes } = plan({ space: spaceOf([0.1, 0, 0.05], [1, 1, 1], [], [dose]), mixes: 8 });
    const shared = mixes.filter(({ mix, blend }) => mix !== blend);
    expect(shared.length).toBeGreaterThan(0);
    for (const { blend, grams, settings } of shared) {
      const bottle = mixes.find(({ mix }) => mix === blend)!;
      expect(bottle.grams).toEqual(grams);
      expect(bottle.settings).not.toEqual(settings);
    }
  });

  it('already: goes on numbering, and plans away from what is there', () => {
    const corner = [0.7, 0, 0.3];
    const already = Array.from({ length: 6 }, (_, k) => ({
      ...{ mix: `m${k + 1}`, blend: `m${k + 1}`, shares: corner, settings: [] },
    }));
    const { mixes } = plan({ space, mixes: 4, already, model: 'linear' });
    expect(mixes.map(({ mix }) => mix)).toEqual(['m7', 'm8', 'm9', 'm10']);
    for (const { ratios } of mixes) expect(ratios.a).toBeLessThan(0.5);
  });
});

describe('stocks', () => {
  it('weigh holds the multiples, grams the equivalent mass of the component', () => {
    const space = spaceOf([0.3, 0.001, 0.2], [0.7, 0.02, 0.6]);
    const { mixes } = plan({ space, mixes: 8, batch: { ...batch, tolerance: 0.02 }, stocks: { b: [5, 1] } });
    const used = mixes.flatMap(({ weigh }) => weigh!.filter(({ component }) => component === 'b'));
    expect(new Set(used.map(({ strength }) => strength)).size).toBeGreaterThan(1);
    for (const { grams, weigh } of mixes) {
      const one = weigh!.find(({ component }) => component === 'b')!;
      expect(Math.abs(one.grams * 100 - Math.round(one.grams * 100))).toBeLessThan(1e-9);
      expect(Math.abs((one.grams * one.strength) / 100 - grams.b!)).toBeLessThan(1e-12);
      expect(0.01 / Math.sqrt(6) / one.grams).toBeLessThanOrEqual(0.02);
    }
  });

  it('a balance found to repeat worse than its step needs the stock for larger masses too', () => {
    // 0.3 to 0.4 g of b: rounding alone knows 0.2 g to 2 %, a repeatability of 0.01 g only half a gram.
    const space = spaceOf([0.3, 0.03, 0.2], [0.7, 0.04, 0.6]);
    const strengths = (repeatability?: number) => {
      const { mixes } = plan({
        space,
        mixes: 8,
        batch: { ...batch, tolerance: 0.02, repeatability },
        stocks: { b: [5] },
      });
      const used = mixes.flatMap(({ weigh }) => weigh!.filter(({ component }) => component === 'b'));
      return [...new Set(used.map(({ strength }) => strength))];
    };
    expect(strengths()).toEqual([100]);
    expect(strengths(0.01)).toEqual([5]);
  });

  it('without stocks, a mass that the balance knows too poorly is named with the stock that would do', () => {
    const space = spaceOf([0.3, 0.001, 0.2], [0.7, 0.02, 0.6]);
    const { warnings } = plan({ space, mixes: 8, batch: { ...batch, tolerance: 0.02 } });
    expect(
      warnings.some((w) => /^b: the smallest mass planned, 0\.01 g, is known to .* a \d+ % stock/.test(w)),
    ).toBe(true);
  });

  it('a high that bounds make unreachable is told', () => {
    const { warnings } = plan({ space: spaceOf([0.5, 0.1, 0.1], [0.8, 0.7, 0.4]), mixes: 6 });
    expect(warnings.some((w) => w.startsWith('b can in fact not exceed 0.4'))).toBe(true);
  });
});
