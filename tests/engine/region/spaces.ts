import type { BlendSpace, SettingRange, ShareBound } from '../../../engine/region/blend-space.ts';
import { loadSolver } from '../../../trials/solver.ts';

/** A solver over a freshly loaded library, one a test file. */
export function loadTestSolver() {
  return loadSolver();
}

/** Components a, b, c … with the given ranges. */
export function spaceOf(
  low: readonly number[],
  high: readonly number[],
  bounds: readonly ShareBound[] = [],
  settings: readonly SettingRange[] = [],
): BlendSpace {
  return {
    components: low.map((l, i) => ({ id: 'abcdefghijkl'[i]!, low: l, high: high[i]! })),
    bounds,
    settings,
  };
}

export function simplex(q: number, settings: readonly SettingRange[] = []): BlendSpace {
  return spaceOf(new Array<number>(q).fill(0), new Array<number>(q).fill(1), [], settings);
}

/** Largest difference of two sorted lists of points; infinite where they differ in number. */
export function apart(
  found: readonly (readonly number[])[],
  expected: readonly (readonly number[])[],
): number {
  if (found.length !== expected.length) return Number.POSITIVE_INFINITY;
  const sorted = (list: readonly (readonly number[])[]) => [...list].sort(byShares);
  const [a, b] = [sorted(found), sorted(expected)];
  return Math.max(...a.map((p, k) => Math.max(...p.map((v, i) => Math.abs(v - b[k]![i]!)))));
}

function byShares(a: readonly number[], b: readonly number[]): number {
  for (let i = 0; i < a.length; i++) if (Math.abs(a[i]! - b[i]!) > 1e-9) return a[i]! - b[i]!;
  return 0;
}
