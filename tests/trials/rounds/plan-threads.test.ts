import { describe, expect, test } from 'vitest';
import { planMixes } from '../../../engine/design/plan-mixes.ts';
import type { PlanInput } from '../../../engine/design/plan-types.ts';
import { planInThreads } from '../../../trials/rounds/plan-threads.ts';
import { loadSolver } from '../../../trials/solver.ts';

const solver = await loadSolver();

const input: PlanInput = {
  space: {
    components: [
      { id: 'peel', low: 0.2, high: 0.6 },
      { id: 'pepper', low: 0.002, high: 0.02 },
      { id: 'wood', low: 0.1, high: 0.7 },
      { id: 'lime', low: 0, high: 0.3 },
    ],
    bounds: [{ of: { peel: 1, lime: 1 }, least: 0.3 }],
    settings: [{ id: 'dose', low: 0.17, high: 0.33, acts: 'whole' }],
  },
  batch: { grams: 4, readability: 0.001 },
  stocks: { pepper: [5] },
  mixes: 13,
  replicated: 1,
  seed: 11,
  starts: 6,
};

describe('a plan searched in worker threads', () => {
  test('is the same bytes with 1, 2 and 4 of them', async () => {
    const alone = JSON.stringify(planMixes(input, { solver }));
    for (const workers of [1, 2, 4]) {
      const seen: string[] = [];
      const hooks = { progress: (_: number, doing: string) => seen.push(doing) };
      const plan = await planInThreads(input, { solver, workers, worthAThread: 0, hooks });
      expect(JSON.stringify(plan)).toBe(alone);
      expect(seen).toContain(workers === 1 ? 'searching, start 6 of 6' : 'searching, 6 of 6');
    }
  });

  test('stops when asked, and ends its threads', async () => {
    let asked = 0;
    const hooks = { cancelled: () => ++asked > 2 };
    const plan = planInThreads(input, { solver, workers: 2, worthAThread: 0, hooks });
    await expect(plan).rejects.toMatchObject({ fault: 'cancelled' });
  });
});
