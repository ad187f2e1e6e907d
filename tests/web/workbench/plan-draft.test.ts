import { describe, expect, it } from 'vitest';
import demo from '../../../trials/demo/brief.json' with { type: 'json' };
import { planOperation } from '../../../trials/rounds/plan-operation.ts';
import type { TrialView } from '../../../trials/schema/api.ts';
import { Brief } from '../../../trials/schema/brief.ts';
import { loadSolver } from '../../../trials/solver.ts';
import {
  asPlace,
  costWords,
  judgeOf,
  placesIn,
  UNCHANGED,
  varianceOf,
  withHeld,
  withMoved,
  withUnwanted,
} from '../../../web/workbench/plan/draft.ts';

const brief = Brief.parse(demo);
const trial = { brief, roundViews: [] } as unknown as TrialView;
const solver = await loadSolver();
const plan = await planOperation({ brief, mixes: 12, seed: 1, compare: true }, { solver });
const [first, second] = plan.mixes.map(({ mix }) => mix) as [string, string];

describe('a plan changed by hand', () => {
  const judge = judgeOf(trial, plan)!;

  it('unchanged, it is judged as the search judged it; a lost mix costs what the plan says', () => {
    expect(judge(UNCHANGED)! / plan.averageVariance!).toBeCloseTo(1, 9);
    for (const { mix, lost } of plan.mixes) {
      const without = judge(withUnwanted(UNCHANGED, mix, true));
      expect(without! / plan.averageVariance!).toBeCloseTo(lost!, 8);
    }
  });

  it('a mix moved by hand costs what the server finds when it is pinned there', async () => {
    const steps = [160, 60, 60, 60, 60];
    const draft = withMoved(UNCHANGED, first, steps);
    const pinned = placesIn(trial, plan, draft);
    expect(pinned[0]!.shares).toEqual([0.4, 0.15, 0.15, 0.15, 0.15]);
    const { model } = plan;
    const moved = await planOperation({ brief, mixes: 12, model, pinned, seed: 1 }, { solver });
    expect(judge(draft)! / moved.averageVariance!).toBeCloseTo(1, 8);
    expect(judge(draft)!).toBeGreaterThan(plan.averageVariance!);
    expect(asPlace(trial, draft, plan.mixes[0]!).ratios).toMatchObject({ peel: 0.4, noot: 0.15 });
  });

  it('holds, lets go and throws out', () => {
    const held = withHeld(UNCHANGED, first, true);
    expect([...held.held]).toEqual([first]);
    const out = withUnwanted(withMoved(held, first, [160, 60, 60, 60, 60]), first, true);
    expect([out.held.size, out.moved.size, out.unwanted.has(first)]).toEqual([0, 0, true]);
    expect(withHeld(withUnwanted(UNCHANGED, second, true), second, true).unwanted.size).toBe(0);
    expect(placesIn(trial, plan, out)).toHaveLength(11);
  });

  it('knows least at a corner that no mix is near', () => {
    const variance = varianceOf(trial, plan, UNCHANGED)!;
    const shares = plan.mixes.map(({ ratios }) => brief.components.map(({ id }) => ratios[id]!));
    const middle = shares[0]!.map((_, i) => shares.reduce((sum, mix) => sum + mix[i]!, 0) / shares.length);
    expect(variance(middle)).toBeLessThan(plan.averageVariance!);
    expect(Math.max(...plan.corners.map(variance))).toBeGreaterThan(plan.averageVariance!);
  });

  it('says in words what it costs, or that it cannot be told', () => {
    expect(costWords(0.2, 0.25)).toBe('This costs certainty: predictions would be 25 % less certain.');
    expect(costWords(0.2, 0.2001)).toMatch(/costs nothing/);
    expect(costWords(0.2, 0.1)).toBe('Predictions would be 50 % more certain.');
    expect(costWords(0.2, null)).toMatch(/Too little/);
    expect(costWords(null, 0.2)).toMatch(/cannot be told/);
    expect(judge({ ...UNCHANGED, unwanted: new Set(plan.mixes.slice(1).map(({ mix }) => mix)) })).toBeNull();
  });
});
