import { describe, expect, it } from 'vitest';
import { knowledgeCurve } from '../../../engine/design/knowledge-curve.ts';
import { planMixes } from '../../../engine/design/plan-mixes.ts';
import type { PlanInput, PlanResult } from '../../../engine/design/plan-types.ts';
import { createRandom } from '../../../engine/numeric/random.ts';
import type { SettingRange } from '../../../engine/region/blend-space.ts';
import { loadTestSolver, spaceOf } from '../region/spaces.ts';
import { codesOf, form, informationOf, invert, rejectionSampler, termsOf } from './independent.ts';

const solver = await loadTestSolver();
const dose: SettingRange = { id: 'dose', low: 0.2, high: 0.4, acts: 'whole' };
const space = spaceOf([0.1, 0, 0.05], [0.7, 0.6, 0.6]);
const base: PlanInput = { space, batch: { grams: 5, readability: 0.01 }, mixes: 10, seed: 2, starts: 4 };

function plan(more: Partial<PlanInput> = {}): PlanResult {
  return planMixes({ ...base, ...more }, { solver });
}

const sharesOf = ({ ratios }: PlanResult['mixes'][number]) => space.components.map(({ id }) => ratios[id]!);

describe('a pinned mix', () => {
  const mine = { shares: [0.3333, 0.3341, 0.3326], settings: [] };
  it('stays where it is put, as it can be weighed, and the others are planned around it', () => {
    const { mixes, averageVariance } = plan({ pinned: [mine] });
    expect(mixes).toHaveLength(10);
    const held = mixes.filter(({ pinned }) => pinned);
    expect(held).toHaveLength(1);
    expect(held[0]!.grams).toEqual({ a: 1.67, b: 1.67, c: 1.66 });
    expect(averageVariance!).toBeGreaterThan(plan().averageVariance! * (1 - 1e-9));
  });

  it('all mixes pinned: the figures are those of these mixes alone', () => {
    const free = plan();
    const all = free.mixes.map((mix) => ({ shares: sharesOf(mix), settings: [] }));
    const held = plan({ pinned: all });
    expect(held.averageVariance!).toBeCloseTo(free.averageVariance!, 10);
    expect(held.logDeterminant!).toBeCloseTo(free.logDeterminant!, 8);
    const moved = plan({ pinned: [mine, ...all.slice(1)] });
    expect(moved.averageVariance!).toBeGreaterThan(free.averageVariance!);
  });

  it('outside the bounds, or too many of them: refused by name', () => {
    expect(() => plan({ pinned: [{ shares: [0.05, 0.5, 0.45], settings: [] }] })).toThrow(/pinned\[0\]/);
    expect(() => plan({ pinned: new Array(11).fill(mine) })).toThrow(/pinned: found 11, allowed at most 10/);
  });
});

describe('a forbidden mix', () => {
  it('is kept away from, by a twentieth of some range', () => {
    const free = plan();
    const forbidden = free.mixes.slice(0, 3).map((mix) => ({ shares: sharesOf(mix), settings: [] }));
    const kept = plan({ forbidden });
    for (const mix of kept.mixes)
      for (const { shares } of forbidden) {
        const away = sharesOf(mix).map((s, i) => Math.abs(s - shares[i]!) / [0.6, 0.6, 0.55][i]!);
        expect(Math.max(...away)).toBeGreaterThan(0.05);
      }
    expect(kept.averageVariance!).toBeGreaterThan(free.averageVariance!);
  });
});

/** Average variance with effects of sittings written out as columns of their own. */
function withColumns(found: PlanResult, input: PlanInput, sittings: number): number {
  const terms = termsOf(found, input.space);
  const p = found.terms.length;
  const rows = found.mixes.map((mix) => {
    const f = terms(
      input.space.components.map(({ id }) => mix.ratios[id]!),
      codesOf(
        input.space,
        input.space.settings.map(({ id }) => mix.settings[id]!),
      ),
    );
    const sizes = Array.from(
      { length: sittings },
      (_, b) => found.mixes.filter(({ sitting }) => sitting === b + 1).length,
    );
    const contrast = (b: number) =>
      mix.sitting === b + 1 ? 1 / sizes[b]! : mix.sitting === sittings ? -1 / sizes[sittings - 1]! : 0;
    return [...f, ...Array.from({ length: sittings - 1 }, (_, b) => contrast(b))];
  });
  const information = rows[0]!.map((_, i) =>
    rows[0]!.map((__, j) => rows.reduce((sum, row) => sum + row[i]! * row[j]!, 0)),
  );
  const { inverse } = invert(information);
  const random = createRandom(3, 'blocks');
  const draw = rejectionSampler(input.space, () => random.uniform());
  let sum = 0;
  for (let k = 0; k < 20_000; k++) {
    const coded = input.space.settings.map(() => 2 * random.uniform() - 1);
    sum += form(
      [...terms(draw(), coded)],
      inverse.slice(0, p).map((row) => row.slice(0, p)),
    );
  }
  return sum / 20_000;
}

describe('sittings as blocks', () => {
  it('as equal in size as can be, and their cost is that of the same model with a column a sitting', () => {
    for (const [more, sittings] of [
      [{}, 2],
      [{ mixes: 14, space: { ...space, settings: [dose] } }, 3],
    ] as const) {
      const input = { ...base, ...more, sittings };
      const found = plan({ ...more, sittings });
      const sizes = Array.from(
        { length: sittings },
        (_, b) => found.mixes.filter(({ sitting }) => sitting === b + 1).length,
      );
      expect(Math.max(...sizes) - Math.min(...sizes)).toBeLessThanOrEqual(1);
      expect(found.mixes[0]!.sitting).toBe(1);
      const without = plan(more).averageVariance!;
      const cost = withColumns(found, input, sittings) / without;
      expect(Math.abs(cost / found.sittingsCost! - 1)).toBeLessThan(0.02);
      expect(found.sittingsCost!).toBeLessThan(1.15);
      expect(found.sittingsCost!).toBeGreaterThan(1 - 1e-9);
    }
  });

  it('one sitting is no block at all', () => {
    const found = plan();
    expect(found.sittingsCost).toBe(1);
    expect(found.mixes.every(({ sitting }) => sitting === undefined)).toBe(true);
  });
});

describe('diagnostics', () => {
  const found = plan();
  const { inverse } = invert(informationOf(found, base));
  const terms = termsOf(found, space);

  it('what a lost mix costs is what the plan without it says', () => {
    const { model } = found;
    expect(model).toBe('special-cubic');
    for (const mix of found.mixes) {
      const others = found.mixes.filter((other) => other !== mix);
      const pinned = others.map((other) => ({ shares: sharesOf(other), settings: [] }));
      const rest = plan({ mixes: 9, pinned, model });
      expect(Math.abs(mix.lost! / (rest.averageVariance! / found.averageVariance!) - 1)).toBeLessThan(1e-8);
    }
  });

  it('the mean variance of a difference, the curve over the region and the correlations', () => {
    const { pairVariance, reach, correlations, condition } = found.judgement!;
    const random = createRandom(5, 'pairs');
    const draw = rejectionSampler(space, () => random.uniform());
    let pairs = 0;
    const variances: number[] = [];
    for (let k = 0; k < 20_000; k++) {
      const [f, g] = [terms(draw(), []), terms(draw(), [])];
      pairs += form(
        f.map((v, i) => v - g[i]!),
        inverse,
      );
      variances.push(form(f, inverse));
    }
    expect(Math.abs(pairs / 20_000 / pairVariance - 1)).toBeLessThan(0.02);
    variances.sort((a, b) => a - b);
    const at = (fraction: number) => variances[Math.round(20_000 * fraction)]!;
    for (const fraction of [0.2, 0.5, 0.8]) {
      // A quantile's standard error is √(F (1 - F) / n) over the density there, read off our own points; ours are 20 000
      // independent ones, those of the plan 10 000 along a walk, counted as 5 000. Four standard errors of the difference.
      const density = 0.04 / (at(fraction + 0.02) - at(fraction - 0.02));
      const error = Math.sqrt(fraction * (1 - fraction) * (1 / 20_000 + 1 / 5000)) / density;
      const told = reach.find((one) => one.fraction === fraction)!.variance;
      expect(Math.abs(told - at(fraction))).toBeLessThan(4 * error);
      expect(4 * error).toBeLessThan(0.06 * told);
    }
    for (const { a, b, correlation } of correlations) {
      const [i, j] = [found.terms.indexOf(a), found.terms.indexOf(b)];
      const expected = inverse[i]![j]! / Math.sqrt(inverse[i]![i]! * inverse[j]![j]!);
      expect(Math.abs(correlation - expected)).toBeLessThan(1e-9);
    }
    expect(condition).toBeGreaterThan(1);
  });
});

describe('knowledge against the number of mixes', () => {
  it('never rises, and is what whole searches in the same model find', () => {
    const { points: curve } = knowledgeCurve(base, [2, 3, 5, 7, 10, 14], { solver });
    expect(curve.map(({ mixes }) => mixes)).toEqual([3, 5, 7, 10, 14]);
    for (const [k, point] of curve.slice(1).entries())
      expect(point.averageVariance).toBeLessThan(curve[k]!.averageVariance);
    for (const { mixes, averageVariance } of curve) {
      const whole = plan({ mixes, model: 'quadratic', priorFor: 3, starts: 16 });
      expect(whole.prior!.terms).toHaveLength(3);
      // the grid of the balance and other random paths
      expect(Math.abs(averageVariance / whole.averageVariance! - 1)).toBeLessThan(0.005);
    }
  });

  it('counts what is weighed, what is pinned and what is scarce, as the plan itself does', () => {
    const already = plan({ mixes: 8, model: 'quadratic' }).mixes.map((mix) => ({
      ...{ mix: mix.mix, blend: mix.mix, settings: [] },
      shares: sharesOf(mix),
    }));
    const pinned = [{ shares: [0.34, 0.33, 0.33], settings: [] }];
    const more = { mixes: 5, model: 'quadratic' as const, already, pinned, atMost: { b: 4 } };
    const found = plan({ ...more, starts: 16 });
    const { points, judge } = knowledgeCurve({ ...base, ...more }, [0, 1, 5, 9, 60], { solver });
    const places = found.mixes.map((mix) => ({ shares: sharesOf(mix), settings: [] }));
    expect(judge(places)!.averageVariance / found.averageVariance!).toBeCloseTo(1, 9);
    expect(judge(places)!.pairVariance / found.judgement!.pairVariance).toBeCloseTo(1, 9);
    expect(points.map(({ mixes }) => mixes).slice(0, 3)).toEqual([1, 5, 9]);
    expect(Math.abs(points[1]!.averageVariance / found.averageVariance! - 1)).toBeLessThan(0.005);
    expect(points[0]!.spots[0]!.shares[0]).toBeCloseTo(0.34, 9);
    for (const { spots } of points)
      expect(spots.reduce((sum, { shares }) => sum + 5 * shares[1]!, 0)).toBeLessThanOrEqual(4 + 1e-9);
    const alone = knowledgeCurve({ ...base, model: 'quadratic' }, [5], { solver }).points[0]!;
    expect(points[1]!.averageVariance).toBeLessThan(alone.averageVariance);
  });
});

describe('a scarce component', () => {
  const used = (found: PlanResult) => found.mixes.reduce((sum, { grams }) => sum + grams.b!, 0);

  it('all mixes together take no more of it than there is, repeats and pinned ones among them', () => {
    const free = plan();
    expect(used(free)).toBeGreaterThan(12);
    const pinned = [{ shares: [0.4, 0.3, 0.3], settings: [] }];
    for (const more of [{}, { replicated: 2 }, { pinned }, { criterion: 'determinant' as const }])
      for (const grams of [10, 6]) {
        const found = plan({ ...more, atMost: { b: grams } });
        expect(used(found)).toBeLessThanOrEqual(grams + 1e-9);
        expect(used(found)).toBeGreaterThan(0.9 * grams);
        expect(found.averageVariance!).toBeGreaterThan(free.averageVariance! * (1 - 1e-9));
      }
  });

  it('more than any mixes would take changes nothing of note; less than the leanest take is refused', () => {
    const [free, roomy] = [plan(), plan({ atMost: { b: 30 } })];
    expect(roomy.averageVariance! / free.averageVariance!).toBeCloseTo(1, 2);
    expect(() => plan({ atMost: { a: 4.9 } })).toThrow(/atMost.a: found 4.9, allowed at least 5 g/);
  });
});
