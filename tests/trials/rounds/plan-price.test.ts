import { describe, expect, test } from 'vitest';
import { priceOfPlan } from '../../../engine/design/plan-price.ts';
import { smallerBatch } from '../../../engine/design/smallest-batch.ts';
import { smallestShift } from '../../../engine/design/smallest-shift.ts';
import { createRandom } from '../../../engine/numeric/random.ts';
import { planOperation } from '../../../trials/rounds/plan-operation.ts';
import { noiseFromFit } from '../../../trials/rounds/weigh-up-plan.ts';
import { Brief } from '../../../trials/schema/brief.ts';
import { loadSolver } from '../../../trials/solver.ts';

const solver = await loadSolver();
const panel = { assessors: 6, cupsPerSitting: 4, replicates: 1 };

describe('the price of a plan, added up by hand', () => {
  const mixes = [
    { blend: 'm1', grams: { a: 3, b: 1 } },
    {
      blend: 'm2',
      grams: { a: 3.95, b: 0.05 },
      weigh: [
        { component: 'a', strength: 100, grams: 3.95 },
        { component: 'b', strength: 5, grams: 1 },
      ],
    },
    { blend: 'm2', grams: { a: 3.95, b: 0.05 } },
  ];

  test('a bottle poured twice is weighed once; stocks are told apart from what they hold', () => {
    const price = priceOfPlan({ mixes, prices: { a: 0.4, b: 2 }, panel, cupsBeside: 1 });
    expect(price).toMatchObject({ bottles: 2, weighings: 4, grams: { a: 6.95, b: 1.05 }, money: 4.88 });
    expect(price.stocks).toEqual([{ component: 'b', strength: 5, grams: 1 }]);
    expect([price.cupsEach, price.cups, price.sittings]).toEqual([4, 24, 1]);
    expect(price.minutes).toEqual({ weighing: 12, pouring: 12, tastingEach: 10 });
  });

  test('without a price of all that is used there is no sum, and it says which', () => {
    const { money, unpriced } = priceOfPlan({ mixes, prices: { a: 0.4 }, panel, cupsBeside: 0 });
    expect([money, unpriced]).toEqual([null, ['b']]);
  });
});

describe('the smallest batch', () => {
  const batch = { grams: 25, readability: 0.01, tolerance: 0.02 };
  const shares = [
    [0.6, 0.002, 0.398],
    [0.3, 0.01, 0.69],
  ];

  test('a component of two thousandths comes from a stock, the others neat', () => {
    const found = smallerBatch({ shares, batch, needed: null, bottles: 10 })!;
    expect(found.grams).toBeLessThan(5);
    expect(found.saves).toBeCloseTo(10 * (25 - found.grams), 9);
    const least = (i: number) => Math.min(...shares.map((mix) => mix[i]!));
    const strength = (i: number) => found.stocks.find(({ component }) => component === i)?.strength ?? 100;
    for (const i of [0, 1, 2]) {
      const error = 0.01 / Math.sqrt(6) / ((found.grams * least(i) * 100) / strength(i));
      expect(error).toBeLessThanOrEqual(0.02 * (1 + 1e-9));
    }
    expect(found.stocks.map(({ component }) => component)).toContain(1);
  });

  test('the panel may need more than the balance; a batch that is small enough stays', () => {
    expect(smallerBatch({ shares, batch, needed: 7, bottles: 10 })).toMatchObject({
      because: 'panel',
      grams: 8,
    });
    expect(smallerBatch({ shares, batch: { ...batch, grams: 2 }, needed: 1.9, bottles: 10 })).toBeNull();
  });
});

describe('the smallest noticed shift', () => {
  test('is noticed four times in five by a simulated panel', () => {
    const [assessors, replicates, cup, assessorByMix] = [6, 2, 10, 4];
    const shift = smallestShift(2, { cup, assessorByMix }, { assessors, replicates });
    const random = createRandom(1, 'panel');
    const mean = () => {
      let sum = 0;
      for (let a = 0; a < assessors; a++) {
        const own = assessorByMix * random.normal();
        for (let r = 0; r < replicates; r++) sum += own + cup * random.normal();
      }
      return sum / assessors / replicates;
    };
    const error = Math.sqrt((2 * (cup ** 2 / replicates + assessorByMix ** 2)) / assessors);
    let noticed = 0;
    for (let k = 0; k < 20_000; k++) if (Math.abs(shift + mean() - mean()) > 1.959964 * error) noticed++;
    expect(Math.abs(noticed / 20_000 - 0.8)).toBeLessThan(0.01);
  });
});

const brief = Brief.parse({
  format: 'brief/1',
  components: [
    { id: 'peel', name: 'Peel', low: 0.2, high: 0.7, pricePerGram: 0.5 },
    { id: 'pepper', name: 'Pepper', low: 0.01, high: 0.1, stocks: [5], pricePerGram: 2 },
    { id: 'wood', name: 'Wood', low: 0.1, high: 0.7, pricePerGram: 0.1 },
  ],
  batch: { grams: 10, readability: 0.01, tolerance: 0.02 },
  attributes: [
    { id: 'zest', name: 'Zest', scale: [0, 100], target: 60 },
    { id: 'like', name: 'Like', scale: [1, 9], target: 'reference' },
  ],
  panel: { assessors: 5, cupsPerSitting: 6, replicates: 1 },
});

describe('a plan with its price and three sizes', () => {
  test('sizes rise, price rises with them, knowledge rises with them', async () => {
    const plan = await planOperation({ brief, mixes: 8, seed: 1, compare: true }, { solver });
    const offers = plan.offers!;
    expect(offers.map(({ offer, mixes }) => [offer, mixes])).toEqual([
      ['one-evening', 5],
      ['two-evenings', 11],
      ['in-depth', 13],
    ]);
    for (const [k, more] of offers.slice(1).entries()) {
      const less = offers[k]!;
      expect(more.price.money!).toBeGreaterThan(less.price.money!);
      expect(more.averageVariance).toBeLessThan(less.averageVariance);
      expect(more.shifts[0]!.shift).toBeLessThan(less.shifts[0]!.shift);
    }
    const curve = plan.knowledge!.map(({ averageVariance }) => averageVariance);
    expect(curve).toEqual([...curve].sort((a, b) => b - a));
    expect(plan.price.cupsEach).toBe(9);
    expect(plan.mixes.filter(({ sitting }) => sitting === 1).length).toBe(4);
    expect(plan.hiddenDuplicate!.cups).toBe(5);
    expect(plan.shifts.map(({ noise }) => noise)).toEqual([
      { cup: 12, assessorByMix: 0, from: 'assumed' },
      { cup: 0.96, assessorByMix: 0, from: 'assumed' },
    ]);
  });

  test('the plan is judged beside the sizes in their model; the size that it has is the plan itself', async () => {
    const plan = await planOperation({ brief, mixes: 11, seed: 1, compare: true, replicated: 2 }, { solver });
    expect([plan.model, plan.comparedIn]).toEqual(['special-cubic', 'quadratic']);
    const chosen = plan.offers!.find(({ mixes }) => mixes === 11)!;
    expect(chosen.price).toEqual(plan.price);
    expect(chosen.shifts).toEqual(plan.among!.shifts);
    const free = plan.knowledge!.find(({ mixes }) => mixes === 11)!;
    expect(plan.among!.averageVariance).toBeGreaterThan(free.averageVariance);
  });

  test('noise that is stated, or that a fit found, takes the place of the assumed one', async () => {
    const attributes = [
      { id: 'zest', variance: { assessor: 1, assessorByMix: 9, session: null, residual: 64 } },
    ];
    const foundNoise = noiseFromFit({ attributes } as unknown as Parameters<typeof noiseFromFit>[0]);
    expect(foundNoise).toEqual({ zest: { cup: 8, assessorByMix: 3, from: 'fit' } });
    const found = await planOperation({ brief, mixes: 5, seed: 1, foundNoise }, { solver });
    expect(found.shifts.map(({ noise }) => noise.from)).toEqual(['fit', 'assumed']);
    const stated = await planOperation({ brief, mixes: 5, seed: 1, noise: 4, foundNoise }, { solver });
    expect(stated.shifts.map(({ noise }) => noise.cup)).toEqual([4, 4]);
  });
});
