import { describe, expect, it } from 'vitest';
import { planMixes } from '../../../engine/design/plan-mixes.ts';
import type { PlanInput, PlanResult } from '../../../engine/design/plan-types.ts';
import { EngineError } from '../../../engine/errors.ts';
import { createRandom, type Random } from '../../../engine/numeric/random.ts';
import type { SettingRange, ShareBound } from '../../../engine/region/blend-space.ts';
import { loadTestSolver } from '../region/spaces.ts';

const solver = await loadTestSolver();
const READABILITIES = [0.1, 0.01, 0.001, 0.002, 0.05, 0.0001];

/** A brief with a mix inside it: ranges around a random blend, components a hundredfold apart among them. */
function randomBrief(random: Random, k: number): PlanInput {
  const q = 2 + random.integer(k % 8 === 0 ? 8 : 5);
  const parts = Array.from({ length: q }, () => 10 ** (-2 * random.uniform()));
  const total = parts.reduce((a, b) => a + b, 0);
  const shares = parts.map((p) => p / total);
  const components = shares.map((s, i) => ({
    id: 'abcdefghijkl'[i]!,
    low: Number((s * random.uniform()).toPrecision(2)),
    high: Math.min(1, Number((s + (1 - s) * random.uniform()).toPrecision(2))),
  }));
  const readability = READABILITIES[random.integer(READABILITIES.length)]!;
  const settings: SettingRange[] =
    random.integer(3) === 0
      ? [{ id: 'dose', low: 0.17, high: 0.33, acts: random.integer(2) === 0 ? 'each' : 'whole' }]
      : [];
  const space = { components, bounds: randomBounds(random, shares), settings };
  const stocks = random.integer(3) === 0 ? { a: [5], b: [10, 1] } : {};
  const grams = Number((readability * (400 + 100 * random.integer(40))).toPrecision(12));
  const mixes = q + random.integer(9);
  const criterion = random.integer(2) === 0 ? ('determinant' as const) : ('average-variance' as const);
  const replicated = random.integer(4) === 0 ? Math.min(2, mixes - q) : 0;
  return {
    ...{ space, batch: { grams, readability }, stocks, mixes, criterion, replicated },
    ...{ seed: k, starts: 3 },
  };
}

function randomBounds(random: Random, shares: readonly number[]): ShareBound[] {
  return Array.from({ length: random.integer(3) }, () => {
    const row = shares.map(() => random.integer(5) - 2);
    const middle = row.reduce((sum, c, i) => sum + c * shares[i]!, 0);
    const of = Object.fromEntries(row.map((c, i) => ['abcdefghijkl'[i]!, c]));
    const away = 0.02 + 0.2 * random.uniform();
    return random.integer(2) === 0
      ? { of, least: Number((middle - away).toFixed(3)) }
      : { of, most: Number((middle + away).toFixed(3)) };
  });
}

/** Whole steps of a decimal: the nearest whole number, which must mean the same decimal. */
function stepsIn(grams: number, readability: number): number {
  const steps = Math.round(grams / readability);
  expect(Number((steps * readability).toPrecision(12))).toBe(grams);
  return steps;
}

function obeysAll(plan: PlanResult, { space, batch, stocks = {} }: PlanInput): void {
  for (const { grams, ratios, settings, weigh } of plan.mixes) {
    const masses = space.components.map(({ id }) => grams[id]!);
    const sum = masses.reduce((a, b) => a + b, 0);
    expect(Math.abs(sum - batch.grams)).toBeLessThan(1e-9 * batch.grams);
    if (weigh === undefined) {
      const steps = masses.map((m) => stepsIn(m, batch.readability));
      expect(steps.reduce((a, b) => a + b, 0)).toBe(stepsIn(batch.grams, batch.readability));
    } else {
      for (const one of weigh) stepsIn(one.grams, batch.readability);
      for (const { component, strength, grams: weighed } of weigh) {
        expect([100, ...(stocks[component] ?? [])]).toContain(strength);
        expect(Math.abs((weighed * strength) / 100 - grams[component]!)).toBeLessThan(1e-9);
      }
    }
    for (const { id, low, high } of space.components) {
      expect(Math.abs(ratios[id]! - grams[id]! / batch.grams)).toBeLessThan(1e-12);
      expect(ratios[id]!).toBeGreaterThan(low - 1e-9);
      expect(ratios[id]!).toBeLessThan(high + 1e-9);
    }
    for (const { of, least, most } of space.bounds) {
      const value = space.components.reduce((all, { id }) => all + (of[id] ?? 0) * ratios[id]!, 0);
      if (least !== undefined) expect(value).toBeGreaterThan(least - 1e-9);
      if (most !== undefined) expect(value).toBeLessThan(most + 1e-9);
    }
    for (const { id, low, high } of space.settings) {
      expect(settings[id]!).toBeGreaterThanOrEqual(low);
      expect(settings[id]!).toBeLessThanOrEqual(high);
    }
  }
}

describe('forty random briefs', () => {
  for (let group = 0; group < 4; group++)
    it(`every bound, exact sums in whole steps, the same bytes again: briefs ${10 * group + 1} to ${10 * group + 10}`, () => {
      for (let k = 10 * group + 1; k <= 10 * group + 10; k++) {
        const input = randomBrief(createRandom(k, 'briefs'), k);
        const plan = planned(input);
        if (plan === null) continue;
        expect(plan.mixes).toHaveLength(input.mixes);
        expect(new Set(plan.mixes.map(({ mix }) => mix)).size).toBe(input.mixes);
        expect(plan.mixes.filter(({ repeats }) => repeats !== undefined).length).toBeGreaterThanOrEqual(
          input.replicated!,
        );
        obeysAll(plan, input);
        if (k % 5 === 0) expect(JSON.stringify(planned(input))).toBe(JSON.stringify(plan));
      }
    });

  it('refuses no more than a few of them, and only as unweighable', () => {
    expect(refused.length).toBeLessThanOrEqual(3);
  });
});

const refused: string[] = [];

function planned(input: PlanInput): PlanResult | null {
  try {
    return planMixes(input, { solver });
  } catch (error) {
    if (!(error instanceof EngineError) || error.fault !== 'unweighable') throw error;
    refused.push(error.message);
    return null;
  }
}
