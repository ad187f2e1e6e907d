import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  pharmacopoeiaMinimum,
  repeatabilityOf,
  repeatTrial,
  smallestMass,
  weighingUncertainty,
} from '../../../engine/bench/balance.ts';
import { strengthOf } from '../../../engine/bench/strength.ts';
import { weighingPlan } from '../../../engine/bench/weighing-plan.ts';
import { EngineError } from '../../../engine/errors.ts';
import examples from '../../reference/bench/weighing-dilution.json' with { type: 'json' };
import { line, material, shelfOf } from './bench-materials.ts';
import { expectClose } from './closeness.ts';

describe('what a balance knows', () => {
  it.each(examples.balances)('holds the worked table at $d_g g', (row) => {
    const balance = { readability: row.d_g };
    expectClose(weighingUncertainty(balance), row.u_net_two_readings_g, 6e-7);
    expectClose(pharmacopoeiaMinimum(balance), row.USP41_minimum_net_g_for_0_10_percent, 1e-9);
    for (const [percent, least] of [
      [1, row.minimum_net_g_for_1_percent],
      [2, row.minimum_net_g_for_2_percent],
      [5, row.minimum_net_g_for_5_percent],
    ] as const)
      expectClose(pharmacopoeiaMinimum(balance, percent / 100), least, 6e-5);
  });

  it('counts a repeatability worse than 0.41 of the step, and no better one (USP <41>)', () => {
    expectClose(pharmacopoeiaMinimum({ readability: 0.01, repeatability: 0.006 }), 12, 1e-9);
    expectClose(pharmacopoeiaMinimum({ readability: 0.01, repeatability: 0.001 }), 8.2, 1e-9);
    expect(weighingUncertainty({ readability: 0.01, repeatability: 0.02 })).toBe(0.02);
    expectClose(smallestMass({ readability: 0.01, repeatability: 0.02 }, 0.01), 2, 1e-12);
  });

  it('finds the repeatability of weighings, shifted or not', () => {
    expectClose(repeatabilityOf([1, 2, 3]), 1, 1e-15);
    expectClose(repeatabilityOf([1e6 + 1, 1e6 + 2, 1e6 + 3]), 1, 1e-9);
    expect(() => repeatabilityOf([1])).toThrow(EngineError);
  });

  it('takes the pharmacopoeia’s own example: 0.15 mg asks for 300 mg (USP <41>, 2019)', () => {
    expectClose(pharmacopoeiaMinimum({ readability: 0.0001, repeatability: 0.00015 }), 0.3, 1e-12);
  });

  it('learns from ten weighings how well a balance repeats', () => {
    // Five a step above 50 g and five a step below: the sum of squares is 10 · 0.01², over nine.
    const ten = Array.from({ length: 10 }, (_, i) => (i % 2 === 0 ? 50.01 : 49.99));
    const trial = repeatTrial(ten, 0.01);
    expectClose(trial.mean, 50, 1e-12);
    expectClose(trial.standardDeviation, 0.01 * Math.sqrt(10 / 9), 1e-12);
    expect(trial).toMatchObject({ repeatability: trial.standardDeviation, heldByStep: false, odd: null });
  });

  it('lets the step count where it hides the scatter', () => {
    const trial = repeatTrial(new Array(10).fill(20.5), 0.01);
    expect(trial).toMatchObject({ standardDeviation: 0, heldByStep: true, odd: null });
    expectClose(trial.repeatability, 0.01 / Math.sqrt(6), 1e-15);
  });

  it('points at a reading far from all others, and at none of an even scatter', () => {
    const even = [0, 1, -1, 2, -2, 1, 0, -1, 1, 0].map((steps) => 30 + steps * 0.01);
    expect(repeatTrial(even, 0.01).odd).toBeNull();
    expect(repeatTrial(even.with(6, 33), 0.01).odd).toBe(6);
  });

  it.each([0, -1, Number.NaN, Number.POSITIVE_INFINITY])('refuses a step of %d', (readability) => {
    expect(() => weighingUncertainty({ readability })).toThrow(EngineError);
  });
});

describe('weighing plan', () => {
  const shelf = shelfOf(
    material('A', { density: 0.9, volatility: 'low' }),
    material('B', { density: 0.9 }),
    material('C', { density: 0.9, volatility: 'high' }),
  );
  const lines = [line('C', 0.05), line('A', 0.5), line('B', 0.2), line('ethanol-96', 20)];

  it('knows the masses of the worked case as badly as it says', () => {
    const coarse = weighingPlan({ lines, materials: shelf, balance: { readability: 0.01 }, tolerance: 0.5 });
    const { relative_standard_uncertainty_percent: expected } = examples.small_component_case;
    const found = new Map(coarse.steps.map((step) => [step.material, step.relativeError]));
    for (const [name, percent] of Object.entries(expected))
      expectClose(100 * found.get(name)!, percent, 6e-4);
    expectClose(
      100 * Math.hypot(found.get('A')!, found.get('C')!),
      examples.small_component_case.ratio_C_to_A_relative_percent,
      6e-4,
    );
    expect(coarse.stocks).toEqual([]);
  });

  it('pours carriers first and top notes last, and tells what the balance shows', () => {
    const plan = weighingPlan({ lines, materials: shelf, balance: { readability: 0.001 }, tolerance: 0.01 });
    expect(plan.steps.map(({ material: name, grams, showTotal }) => [name, grams, showTotal])).toEqual([
      ['ethanol-96', 20, 20],
      ['A', 0.5, 20.5],
      ['B', 0.2, 20.7],
      ['C', 0.05, 20.75],
    ]);
  });

  it('puts a stock in where a mass is too small, takes its solvent off the carrier, and says how to make it', () => {
    const plan = weighingPlan({ lines, materials: shelf, balance: { readability: 0.01 } });
    expect(plan.stocks).toMatchObject([
      { material: 'C', strength: 10, solvent: 'ethanol-96', grams: 0.5 },
      { material: 'B', strength: 10, solvent: 'ethanol-96', grams: 2 },
    ]);
    // A as it is: 0.0041 of 0.50 g is 0.8 %.
    expect(plan.steps.map(({ material: name, grams, strength }) => [name, grams, strength])).toEqual([
      ['ethanol-96', 17.75, 100],
      ['A', 0.5, 100],
      ['B', 2, 10],
      ['C', 0.5, 10],
    ]);
    expect(plan.steps.every(({ relativeError }) => relativeError <= 0.01)).toBe(true);
    expect(plan.stocks[0]!.make).toEqual([{ from: { strength: 100, grams: 0.41 }, solventGrams: 3.69 }]);
    expect(plan.warnings).toEqual([]);
  });

  it('makes a weak stock in steps of ten, each weighable', () => {
    const plan = weighingPlan({
      lines: [line('A', 0.0004), line('ethanol-96', 20)],
      materials: shelf,
      balance: { readability: 0.001 },
    });
    expect(plan.stocks).toMatchObject([{ strength: 0.1, grams: 0.4 }]);
    const { make } = plan.stocks[0]!;
    expect(make.map(({ from }) => from.strength)).toEqual([100, 10, 1]);
    for (const { from, solventGrams } of make) {
      expect(from.grams).toBeGreaterThanOrEqual(plan.smallestGrams);
      expectClose(solventGrams, 9 * from.grams, 1e-9);
    }
    // Each stock suffices for the next, and the last for what is weighed.
    const sizes = make.map(({ from, solventGrams }) => from.grams + solventGrams);
    expect(sizes.at(-1)!).toBeGreaterThanOrEqual(0.4);
    for (const [i, { from }] of make.slice(1).entries()) expect(sizes[i]!).toBeGreaterThanOrEqual(from.grams);
  });

  it('warns where the stocks would bring more solvent than there is', () => {
    const plan = weighingPlan({
      lines: [line('A', 0.05), line('B', 5)],
      materials: shelf,
      balance: { readability: 0.01 },
    });
    expect(plan.warnings).toEqual([expect.stringMatching(/A brings 0\.450 g of ethanol-96.*none of it/)]);
  });

  it('stays the formula that it was: pure substances and total to within the steps of the balance', () => {
    const small = fc.double({ min: 0.001, max: 1, noNaN: true });
    fc.assert(
      fc.property(small, small, small, (a, b, c) => {
        const given = [line('A', a), line('B', b), line('C', c), line('ethanol-96', 500)];
        const balance = { readability: 0.01 };
        const plan = weighingPlan({ lines: given, materials: shelf, balance });
        const made = plan.steps.map(({ material: name, grams, strength }, i) => ({
          line: line(strength === 100 ? name : `stock-${i}`, grams),
          stock: material(`stock-${i}`, {
            makeup: { kind: 'solution', of: name, percent: strength, solvent: 'ethanol-96' },
          }),
        }));
        const all = new Map([...shelf, ...made.map(({ stock }) => [stock.id, stock] as const)]);
        const before = gramsIn(strengthOf(given, shelf));
        const after = gramsIn(
          strengthOf(
            made.map((one) => one.line),
            all,
          ),
        );
        expectClose(plan.steps.at(-1)!.showTotal, 500 + a + b + c, 0.005 * 4 + 1e-9);
        for (const [name, grams] of before) expectClose(after.get(name)!, grams, 0.025);
        for (const { relativeError } of plan.steps) expect(relativeError).toBeLessThanOrEqual(0.01);
      }),
      { seed: 1, numRuns: 100 },
    );
  });

  it('spreads errors into shares as drawing them does', () => {
    const plan = weighingPlan({
      lines: [line('A', 3), line('B', 1)],
      materials: shelf,
      balance: { readability: 0.01, repeatability: 0.01 },
    });
    // By hand: share of B = 1/4; (3/4 · 0.01)² + (0.01/4)² = 6.25e-5.
    expectClose(plan.steps.find(({ material: name }) => name === 'B')!.shareError, Math.sqrt(6.25e-5), 1e-15);
  });

  it('passes over lines of nothing, and refuses a tolerance of nothing', () => {
    const nothing = [line('A', 0), line('B', 5)];
    expect(
      weighingPlan({ lines: nothing, materials: shelf, balance: { readability: 0.01 } }).steps,
    ).toHaveLength(1);
    expect(() =>
      weighingPlan({ lines: nothing, materials: shelf, balance: { readability: 0.01 }, tolerance: 0 }),
    ).toThrow(EngineError);
  });
});

function gramsIn({ substances }: ReturnType<typeof strengthOf>): Map<string, number> {
  return new Map(substances.map(({ id, grams }) => [id, grams]));
}
