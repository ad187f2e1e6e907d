import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { type LeftoverBench, makeFromLeftovers } from '../../../engine/aim/from-leftovers.ts';
import { type LeftoverRequest, pourFromLeftovers } from '../../../engine/aim/leftover-program.ts';
import { pourProposals } from '../../../engine/aim/leftover-shelf.ts';
import type { FromLeftovers, Leftover } from '../../../engine/aim/leftover-types.ts';
import type { Proposal } from '../../../engine/aim/next-types.ts';
import type { LinearSolver } from '../../../engine/numeric/linear-solver.ts';
import { describeRegion } from '../../../engine/region/describe-region.ts';
import { type Stocks, weighingGrid } from '../../../engine/region/weighing-grid.ts';
import { loadSolver } from '../../../trials/solver.ts';

const read = (file: string) => JSON.parse(readFileSync(`tests/reference/aim/${file}`, 'utf8'));
const sum = (list: readonly number[]) => list.reduce((a, b) => a + b, 0);

let solver: LinearSolver;
beforeAll(async () => {
  solver = await loadSolver();
});

function benchOf(stocks: Stocks = {}, prices: Record<string, number> = {}): LeftoverBench {
  const components = ['a', 'b', 'c'].map((id) => ({ id, low: 0, high: 1 }));
  const space = { components, bounds: [], settings: [] };
  const grid = weighingGrid(space, { grams: 4, readability: 0.01, tolerance: 0.02 }, stocks);
  return { region: describeRegion(space, solver), grid, prices, solver };
}

/** Shares of what is poured and added fresh, worked out anew. */
function made({ pours, fresh }: FromLeftovers, leftovers: readonly Leftover[]): number[] {
  const grams = ['a', 'b', 'c'].map((id, j) =>
    pours.reduce(
      (total, pour) => total + pour.grams * leftovers.find((l) => l.blend === pour.mix)!.shares[j]!,
      fresh[id] ?? 0,
    ),
  );
  return grams.map((g) => g / sum(grams));
}

describe('the cheapest pour', () => {
  it('costs what trying every set of bottles and components finds with another library', () => {
    const { cases }: { cases: (LeftoverRequest & { cost: number })[] } = read('leftovers.json');
    expect(cases.length).toBeGreaterThan(10);
    for (const { cost, ...request } of cases) {
      const found = pourFromLeftovers(request, solver)!;
      // both solve to about 1e-9 of a gram
      expect(Math.abs(found.cost - cost)).toBeLessThan(1e-6 + 1e-6 * cost);
      request.wanted.forEach((grams, j) => {
        const got = found.poured.reduce(
          (total, p, i) => total + p * request.leftovers[i]!.shares[j]!,
          found.fresh[j]!,
        );
        expect(Math.abs(got - grams)).toBeLessThan(1e-7);
      });
    }
  });

  it('needs as little fresh material as the worked example says', () => {
    const { leftovers, cases } = read('leftover-blend.json');
    const bottles = leftovers.map((one: { name: string; composition: number[]; left_g: number }) => ({
      blend: one.name,
      grams: one.left_g,
      shares: one.composition.map((share) => share / sum(one.composition)),
    }));
    expect(cases).toHaveLength(3);
    for (const { target, total_g, minimum_fresh_g } of cases) {
      const wanted = target.map((share: number) => share * total_g);
      const request = { wanted, leftovers: bottles, prices: [1, 1, 1], weighing: 0 };
      const found = pourFromLeftovers(request, solver)!;
      // the example gives compositions to six decimals
      expect(Math.abs(sum(found.fresh) - minimum_fresh_g)).toBeLessThan(1e-5);
      found.poured.forEach((grams, i) => {
        expect(grams).toBeLessThanOrEqual(bottles[i].grams + 1e-9);
      });
    }
  });

  it('tops a bottle up as the closed form says', () => {
    const { cases } = read('leftover-blend.json').top_up_only;
    expect(cases).toHaveLength(3);
    for (const { bottle_g, current, target, final_mass_g, add_g } of cases) {
      const wanted = target.map((share: number) => share * final_mass_g);
      const leftovers = [{ blend: 'v', grams: bottle_g, shares: current }];
      const found = pourFromLeftovers({ wanted, leftovers, prices: [1, 1, 1], weighing: 0 }, solver)!;
      expect(Math.abs(found.poured[0]! - bottle_g)).toBeLessThan(5e-6);
      add_g.forEach((grams: number, j: number) => {
        expect(Math.abs(found.fresh[j]! - grams)).toBeLessThan(5e-6);
      });
    }
  });
});

describe('a blend from leftovers', () => {
  const share = fc.double({ min: 0.01, max: 1, noNaN: true });
  const shares = fc
    .tuple(share, share, share)
    .map((list) => list.map((s) => s / sum(list)) as [number, number, number]);
  const steps = fc.tuple(fc.integer({ min: 20, max: 180 }), fc.integer({ min: 20, max: 180 }));
  const bottles = fc.array(fc.tuple(fc.integer({ min: 0, max: 300 }), shares), { maxLength: 5 });

  it('is whole steps that sum to the batch, near what was asked, from no more than is left', () => {
    const bench = benchOf({}, { a: 1, b: 0.2, c: 3 });
    fc.assert(
      fc.property(steps, bottles, ([a, b], list) => {
        const wanted = [a / 100, b / 100, (400 - a - b) / 100];
        const leftovers = list.map(([left, own], i) => ({ blend: `m${i}`, grams: left / 100, shares: own }));
        const found = makeFromLeftovers(wanted, leftovers, bench);
        const masses = [...found.pours.map(({ grams }) => grams), ...Object.values(found.fresh)];
        for (const grams of masses)
          expect(Math.abs(grams * 100 - Math.round(grams * 100))).toBeLessThan(1e-6);
        expect(Math.abs(sum(masses) - 4)).toBeLessThan(1e-9);
        for (const { mix, grams } of found.pours)
          expect(grams).toBeLessThanOrEqual(leftovers.find(({ blend }) => blend === mix)!.grams + 1e-9);
        made(found, leftovers).forEach((own, j) => {
          expect(Math.abs(own - Object.values(found.ratios)[j]!)).toBeLessThan(1e-9);
          // half a step off by the program, half a step a mass by rounding
          expect(Math.abs(own * 4 - wanted[j]!)).toBeLessThan(0.01 * (0.5 + 0.5 * masses.length) + 1e-9);
        });
        expect(found.saves.grams).toBeCloseTo(sum(found.pours.map(({ grams }) => grams)), 9);
      }),
      { seed: 3, numRuns: 60 },
    );
  });

  it('goes by what the bottle really holds, not by what it was planned to', () => {
    const bench = benchOf();
    const [planned, weighed] = [
      [0.5, 0.5, 0],
      [0.56, 0.44, 0],
    ];
    const leftovers = [{ blend: 'm1', grams: 4, shares: weighed }];
    const found = makeFromLeftovers([2, 2, 0], leftovers, bench);
    expect(found.pours).toHaveLength(1);
    made(found, leftovers).forEach((own, j) => {
      expect(Math.abs(own - planned[j]!)).toBeLessThan(0.004);
    });
    // pouring 4 g as planned would have missed by 6 in a hundred
    expect(found.pours[0]!.grams).toBeLessThan(3.7);
  });

  it('weighs a trace as its stock', () => {
    const bench = benchOf({ c: [5] });
    const leftovers = [{ blend: 'm1', grams: 3, shares: [0.5, 0.5, 0] }];
    const found = makeFromLeftovers([1.99, 1.99, 0.02], leftovers, bench);
    const stock = found.weigh!.find(({ component }) => component === 'c')!;
    expect(stock).toEqual({ component: 'c', strength: 5, grams: 0.4 });
    expect(found.fresh.c).toBeCloseTo(0.02, 12);
    expect(sum([...found.pours.map(({ grams }) => grams), ...Object.values(found.fresh)])).toBeCloseTo(4, 9);
  });

  it('says so where nothing is saved', () => {
    const found = makeFromLeftovers([4, 0, 0], [{ blend: 'm1', grams: 4, shares: [0, 0.5, 0.5] }], benchOf());
    expect(found.pours).toEqual([]);
    expect(found.fresh).toEqual({ a: 4 });
    expect(found.saves).toEqual({ grams: 0, money: 0, weighings: 0 });
  });
});

describe('a round from leftovers', () => {
  const mixes = [
    { mix: 'm1', blend: 'm1', shares: [0.5, 0.5, 0], settings: [] },
    { mix: 'm2', blend: 'm2', shares: [0, 0.5, 0.5], settings: [] },
  ];
  const proposal = (mix: string, a: number, b: number, c: number, again?: true): Proposal => ({
    ...{ mix, ratios: { a: a / 4, b: b / 4, c: c / 4 }, grams: { a, b, c }, settings: {}, predicted: {} },
    ...{ chance: 0, distance: 0, expectedDistance: 0, why: '', ...(again ? { again } : {}) },
  });

  it('never pours the same gram twice', () => {
    const onHand = [{ blend: 'm1', grams: 3 }];
    const proposals = [proposal('m3', 2, 2, 0), proposal('m4', 2, 2, 0)];
    const { made: found } = pourProposals(proposals, { onHand, mixes }, benchOf());
    const poured = found.map(({ pours }) => sum(pours.map(({ grams }) => grams)));
    expect(poured[0]).toBeCloseTo(3, 9);
    expect(poured[1]).toBe(0);
  });

  it('leaves alone what is older than twice the rest, unless it is poured again as a check', () => {
    const onHand = [
      { blend: 'm1', grams: 4, ageHours: 50 },
      { blend: 'm2', grams: 4, ageHours: 47 },
    ];
    const shelf = { onHand, mixes, restHours: 24 };
    const proposals = [proposal('m3', 1, 2, 1), proposal('m1', 2, 2, 0, true)];
    const { made: found, warnings } = pourProposals(proposals, shelf, benchOf());
    expect(found[0]!.pours.map(({ mix }) => mix)).toEqual(['m2']);
    expect(found[1]!.pours).toEqual([{ mix: 'm1', grams: 4 }]);
    expect(warnings).toHaveLength(1);
    expect(warnings[0]).toMatch(/^m1 is older/);
  });

  it('keeps a bottle that is to be poured again', () => {
    const onHand = [{ blend: 'm1', grams: 4 }];
    const proposals = [proposal('m3', 2, 2, 0), proposal('m1', 2, 2, 0, true)];
    const { made: found } = pourProposals(proposals, { onHand, mixes }, benchOf());
    expect(found[0]!.pours).toEqual([]);
    expect(found[1]!.says).toBe('Poured from what is left of m1: nothing to weigh.');
  });

  it('refuses a bottle that was never weighed', () => {
    const shelf = { onHand: [{ blend: 'm9', grams: 1 }], mixes };
    expect(() => pourProposals([], shelf, benchOf())).toThrow(/leftovers/);
  });
});
