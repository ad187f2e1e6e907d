import { describe, expect, it } from 'vitest';
import { planMixes } from '../../../engine/design/plan-mixes.ts';
import type { PlanInput, PlanResult } from '../../../engine/design/plan-types.ts';
import { loadTestSolver, simplex, spaceOf } from '../region/spaces.ts';
import { invert } from './independent.ts';

const solver = await loadTestSolver();
const space = spaceOf([0.1, 0, 0.05], [0.7, 0.6, 0.6]);
const base: PlanInput = { space, batch: { grams: 5, readability: 0.01 }, mixes: 10, seed: 2, starts: 4 };
const prices = { a: 0.2, b: 6, c: 0.5 };

function plan(more: Partial<PlanInput> = {}): PlanResult {
  return planMixes({ ...base, ...more }, { solver });
}

const costOf = ({ mixes }: PlanResult, of: Record<string, number> = prices) =>
  mixes.reduce((sum, { grams }) => sum + Object.entries(of).reduce((s, [id, p]) => s + p * grams[id]!, 0), 0);

describe('a cheaper plan for almost the same knowledge', () => {
  const free = plan();

  it('costs less, loses no more than may be lost, and tells both as they are', () => {
    let before = costOf(free);
    for (const loss of [0.01, 0.02, 0.05, 0.2]) {
      const found = plan({ thrift: { loss, prices } });
      const { allowed, lost, costBefore, cost, spared } = found.thrift!;
      expect(allowed).toBe(loss);
      expect(found.averageVariance! / free.averageVariance! - 1).toBeCloseTo(lost, 9);
      expect(lost).toBeLessThanOrEqual(loss);
      expect(costBefore).toBeCloseTo(costOf(free), 8);
      expect(cost).toBeCloseTo(costOf(found), 8);
      expect(cost).toBeLessThan(before);
      for (const id of ['a', 'b', 'c']) {
        const grams = (of: PlanResult) => of.mixes.reduce((sum, mix) => sum + mix.grams[id]!, 0);
        expect(spared[id]!).toBeCloseTo(grams(free) - grams(found), 8);
      }
      before = cost;
    }
  });

  it('the same for the determinant, a term; with repeats, pinned mixes and something scarce beside it', () => {
    const pinned = [{ shares: [0.4, 0.3, 0.3], settings: [] }];
    for (const more of [
      { criterion: 'determinant' as const },
      { replicated: 2 },
      { pinned, atMost: { b: 12 } },
    ]) {
      const without = plan(more);
      const found = plan({ ...more, thrift: { loss: 0.05, prices } });
      const lost =
        'criterion' in more
          ? Math.exp((without.logDeterminant! - found.logDeterminant!) / found.terms.length) - 1
          : found.averageVariance! / without.averageVariance! - 1;
      expect(found.thrift!.lost).toBeCloseTo(Math.max(0, lost), 8);
      expect(lost).toBeLessThanOrEqual(0.05);
      expect(costOf(found)).toBeLessThan(costOf(without));
      expect(found.thrift!.cost).toBeCloseTo(costOf(found), 8);
    }
  });

  it('nothing priced, or no loss at all: refused by name', () => {
    expect(() => plan({ thrift: { loss: 0.02, prices: {} } })).toThrow(/thrift.prices/);
    expect(() => plan({ thrift: { loss: 0, prices } })).toThrow(/thrift.loss: found 0/);
  });
});

describe('against every plan there is, on a coarse balance', () => {
  it('as cheap as the cheapest of all that know so much', () => {
    const input = {
      ...{ space: simplex(3), batch: { grams: 1, readability: 0.2 }, mixes: 4, seed: 1 },
      model: 'linear' as const,
    };
    const own = { a: 1, b: 0.1, c: 0.4 };
    const points: number[][] = [];
    for (let i = 0; i <= 5; i++)
      for (let j = 0; j <= 5 - i; j++) points.push([i / 5, j / 5, (5 - i - j) / 5]);
    // the mean over the simplex of x x' for three components: (1 + [i = j]) / 12
    const variance = (rows: number[][]): number => {
      const x = [0, 1, 2].map((i) => [0, 1, 2].map((j) => rows.reduce((sum, r) => sum + r[i]! * r[j]!, 0)));
      const det =
        x[0]![0]! * (x[1]![1]! * x[2]![2]! - x[1]![2]! ** 2) -
        x[0]![1]! * (x[0]![1]! * x[2]![2]! - x[1]![2]! * x[0]![2]!) +
        x[0]![2]! * (x[0]![1]! * x[1]![2]! - x[1]![1]! * x[0]![2]!);
      if (det < 1e-9) return Number.POSITIVE_INFINITY;
      const { inverse } = invert(x);
      return inverse.flat().reduce((sum, v, k) => sum + (v * (k % 4 === 0 ? 2 : 1)) / 12, 0);
    };
    const all: { cost: number; variance: number }[] = [];
    const choose = (from: number, rows: number[][]): void => {
      if (rows.length === 4) {
        const cost = rows.reduce((sum, r) => sum + r[0]! + 0.1 * r[1]! + 0.4 * r[2]!, 0);
        all.push({ cost, variance: variance(rows) });
        return;
      }
      for (let k = from; k < points.length; k++) choose(k, [...rows, points[k]!]);
    };
    choose(0, []);
    const free = planMixes(input, { solver });
    const best = all.reduce((least, one) => Math.min(least, one.variance), Number.POSITIVE_INFINITY);
    expect(free.averageVariance!).toBeCloseTo(best, 9);
    for (const loss of [0.05, 0.16, 0.31, 0.61]) {
      const found = planMixes({ ...input, thrift: { loss, prices: own } }, { solver });
      const limit = free.averageVariance! * (1 + loss) * (1 + 1e-12);
      const cheapest = all.reduce(
        (least, one) => (one.variance <= limit ? Math.min(least, one.cost) : least),
        Number.POSITIVE_INFINITY,
      );
      expect(found.thrift!.cost).toBeLessThanOrEqual(cheapest * (1 + 1e-9));
    }
  });
});
