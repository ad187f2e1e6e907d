import { describe, expect, it } from 'vitest';
import { dilutedBrix, sugarDensity } from '../../../engine/bench/sugar-density.ts';
import { EngineError } from '../../../engine/errors.ts';
import { expectClose } from './closeness.ts';

describe('sugar in water', () => {
  // CRC Handbook of Chemistry and Physics, sucrose at 20 °C, as quoted in public.
  it.each([
    [0, 0.9982],
    [10, 1.0381],
    [20, 1.081],
    [30, 1.127],
    [40, 1.1764],
    [50, 1.2296],
  ])('at %d %% by mass weighs %d g/mL', (brix, density) => {
    expectClose(sugarDensity(brix), density, 1.5e-4);
  });

  it('passes between the points of its table as the published 65 % does (from memory: 1.3163)', () => {
    expectClose(sugarDensity(65), 1.3163, 2e-4);
  });

  it('rises without a kink where the points change', () => {
    const step = 0.01;
    const slopes = Array.from(
      { length: 6999 },
      (_, i) => (sugarDensity((i + 1) * step) - sugarDensity(i * step)) / step,
    );
    expect(slopes.every((slope) => slope > 0.0035 && slope < 0.0065)).toBe(true);
    expect(slopes.every((slope, i) => i === 0 || Math.abs(slope - slopes[i - 1]!) < 2e-5)).toBe(true);
  });

  // Common bench figure: 60 °Brix syrup, one part to five by volume, is a drink of about 12.3 °Brix.
  it('dilutes 60 °Brix one to five to 12.3 °Brix, not to 10', () => {
    expectClose(dilutedBrix(60, 1, 5), 12.3, 0.02);
    expectClose(dilutedBrix(60, 1, 0), 60, 1e-12);
    expect(dilutedBrix(60, 0, 1)).toBe(0);
  });

  it.each([-1, 70.1, Number.NaN])('refuses %d %%', (brix) => {
    expect(() => sugarDensity(brix)).toThrow(EngineError);
  });
  it('refuses nothing to drink', () => {
    expect(() => dilutedBrix(60, 0, 0)).toThrow(EngineError);
    expect(() => dilutedBrix(60, -1, 2)).toThrow(EngineError);
  });
});
