import type { DegreesMethod } from '../panel/mixed/types.ts';
import { waldTest } from '../panel/mixed/wald-test.ts';
import { noTest, type Test } from '../panel/reading-types.ts';
import type { Surface } from './surface.ts';

/**
 * Tests that all ratios taste alike: that the surface is level over the blends at every setting. In a polynomial the
 * components' coefficients are then equal, those of products of components are zero, and each setting acts on every
 * component alike; what settings do by themselves is free. The contrasts are orthonormal.
 */
export function blendingTest({ fit, set }: Surface, df: DegreesMethod): Test {
  if (set.level.length === 0) return noTest('the blend does not vary');
  const rows = set.level.map((weights) => {
    const row = new Float64Array(fit.p);
    row.set(weights);
    return row;
  });
  const { f, numDf, denDf, p, reason } = waldTest(fit, rows, df);
  return f === null || reason !== null ? noTest(reason ?? 'cannot be tested') : { f, numDf, denDf, p };
}
