import type { DegreesMethod } from '../panel/mixed/types.ts';
import { waldTest } from '../panel/mixed/wald-test.ts';
import { noTest, type Test } from '../panel/reading-types.ts';
import { complementOf } from '../region/affine-hull.ts';
import type { Surface } from './surface.ts';

/**
 * Tests that all ratios taste alike: that the surface is level over the blends at every setting. Then the
 * components' coefficients are equal, those of products of components are zero, and each setting acts on every
 * component alike; what settings do by themselves is free. The contrasts are orthonormal.
 */
export function blendingTest(surface: Surface, df: DegreesMethod): Test {
  const rows = levelContrasts(surface);
  if (rows.length === 0) return noTest('the blend does not vary');
  const { f, numDf, denDf, p, reason } = waldTest(surface.fit, rows, df);
  return f === null || reason !== null ? noTest(reason ?? 'cannot be tested') : { f, numDf, denDf, p };
}

function levelContrasts({ set: { terms }, fit }: Surface): Float64Array[] {
  const groups = new Map<string, number[]>();
  const rows: Float64Array[] = [];
  terms.forEach((term, t) => {
    const linear = term.components.length === 1 && !term.difference;
    const key = term.settings.join();
    if (linear) groups.set(key, [...(groups.get(key) ?? []), t]);
    else if (term.components.length > 0) rows.push(unitRow(fit.p, t));
  });
  for (const group of groups.values()) rows.push(...contrastsWithin(group, fit.p));
  return rows;
}

/** Orthonormal contrasts among the coefficients of a group. */
function contrastsWithin(group: readonly number[], p: number): Float64Array[] {
  const level = [group.map(() => 1)];
  return complementOf(level, group.length).map((weights) => {
    const row = new Float64Array(p);
    weights.forEach((w, i) => {
      row[group[i]!] = w;
    });
    return row;
  });
}

function unitRow(p: number, at: number): Float64Array {
  const row = new Float64Array(p);
  row[at] = 1;
  return row;
}
