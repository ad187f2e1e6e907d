import { expect, test } from 'vitest';
import { loadSolver } from '../../trials/solver.ts';
import { coverageIn, summarise } from './coverage.ts';
import { WORLD_FAMILIES } from './world.ts';

test('intervals of a few worlds hold what the panel would give about as often as they say', async () => {
  const solver = await loadSolver();
  const found = WORLD_FAMILIES.flatMap((family) =>
    (['linear', 'process'] as const).flatMap((model) =>
      [301, 302].map((seed) => coverageIn(seed, { family, model, planned: 'linear' }, solver)),
    ),
  );
  const { share, worlds, width } = summarise(found);
  expect(worlds).toBe(8);
  expect(found.every(({ intervals }) => intervals >= 80)).toBe(true);
  // eight worlds tell little; the long test measures
  expect(share).toBeGreaterThan(0.85);
  expect(width).toBeLessThan(60);
  expect(coverageIn(301, found[0]!.question, solver)).toEqual(found[0]);
}, 120_000);
