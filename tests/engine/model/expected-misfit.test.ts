import { describe, expect, it } from 'vitest';
import { expectedMisfit } from '../../../engine/model/expected-misfit.ts';
import type { MixSummary } from '../../../engine/model/mix-summary.ts';
import { fitNugget } from '../../../engine/model/nugget.ts';
import { createRandom } from '../../../engine/numeric/random.ts';

/** Means of mixes about a constant with the given scatter, each known to a variance of `noise`. */
function summaryOf(mixes: number, scatter: number, noise: number, seed = 1): MixSummary {
  const random = createRandom(seed, 'misfit');
  const means = Float64Array.from(
    { length: mixes },
    () => 50 + scatter * random.normal() + Math.sqrt(noise) * random.normal(),
  );
  const covariance = new Float64Array(mixes * mixes);
  for (let i = 0; i < mixes; i++) covariance[i * mixes + i] = noise;
  return {
    means,
    covariance,
    cups: new Float64Array(mixes).fill(6),
    blendOf: Int32Array.from({ length: mixes }, (_, i) => i),
  };
}

const constant = (mixes: number) => new Float64Array(mixes).fill(1);

describe('the expected lack of fit', () => {
  it('is what a numerical integral over τ says, by hand for two mixes', () => {
    const summary = { ...summaryOf(2, 0, 4), means: Float64Array.of(48, 53) };
    // contrast (53 - 48)/√2 ~ N(0, 4 + τ²), τ half-normal with scale 3
    const density = (tau: number) =>
      Math.exp(-0.5 * (Math.log(4 + tau ** 2) + 12.5 / (4 + tau ** 2) + (tau / 3) ** 2));
    let [above, below] = [0, 0];
    for (let tau = 0.0005; tau < 40; tau += 0.001) {
      above += tau ** 2 * density(tau);
      below += density(tau);
    }
    const found = expectedMisfit(summary, constant(2), 3);
    expect(Math.abs(found / (above / below) - 1)).toBeLessThan(1e-4);
  });

  it('comes to the restricted likelihood estimate where mixes are many', () => {
    const summary = summaryOf(80, 5, 4);
    const { nugget } = fitNugget(summary, constant(80))!;
    expect(Math.abs(expectedMisfit(summary, constant(80), 10) / nugget - 1)).toBeLessThan(0.1);
  });

  it('is above zero where the estimate is zero, and less the more mixes say so', () => {
    const few = summaryOf(4, 0, 4, 3);
    const many = summaryOf(60, 0, 4, 3);
    expect(fitNugget(few, constant(4))!.nugget).toBe(0);
    const [a, b] = [expectedMisfit(few, constant(4), 2), expectedMisfit(many, constant(60), 2)];
    expect(a).toBeGreaterThan(0.3);
    expect(b).toBeLessThan(a);
  });

  it('is the scale alone where nothing is left over, and nothing for no scale', () => {
    const saturated = summaryOf(3, 5, 4);
    expect(expectedMisfit(saturated, Float64Array.of(1, 0, 0, 0, 1, 0, 0, 0, 1), 2)).toBe(4);
    expect(expectedMisfit({ ...saturated, covariance: null }, constant(3), 2)).toBe(4);
    expect(expectedMisfit(saturated, constant(3), 0)).toBe(0);
  });
});
