import type { Random } from '../numeric/random.ts';
import type { PointTable } from './point-table.ts';

/** Number of features; each pair is the cosine and sine of one direction. */
export const FEATURES = 12;
/** Deviations at ratios half the region apart are nearly independent. */
const REACH = 0.4;

/**
 * Features of unit length at every point, so that a normal combination of them is a smooth random surface with the
 * same variance everywhere (random Fourier features; Rahimi and Recht 2007). What the panel's average has beside
 * the fitted surface at untasted ratios (assessor by mix, lack of fit) is drawn this way: near ratios deviate
 * alike, so that the best of a thousand near ratios is not made of a thousand independent lucky numbers.
 *
 * @returns points × FEATURES
 */
export function smoothFeatures(table: PointTable, random: Random): Float64Array {
  const dimensions = table.count > 0 ? table.scaled(0).length : 0;
  const waves = Array.from({ length: FEATURES / 2 }, () =>
    Array.from({ length: dimensions }, () => random.normal() / REACH),
  );
  const size = Math.sqrt(2 / FEATURES);
  const out = new Float64Array(table.count * FEATURES);
  for (let i = 0; i < table.count; i++) {
    const at = table.scaled(i);
    waves.forEach((wave, w) => {
      const angle = wave.reduce((sum, v, d) => sum + v * at[d]!, 0);
      out[i * FEATURES + 2 * w] = size * Math.cos(angle);
      out[i * FEATURES + 2 * w + 1] = size * Math.sin(angle);
    });
  }
  return out;
}
