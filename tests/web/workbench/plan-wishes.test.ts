import { describe, expect, it } from 'vitest';
import demo from '../../../trials/demo/brief.json' with { type: 'json' };
import type { TrialView } from '../../../trials/schema/api.ts';
import { Brief } from '../../../trials/schema/brief.ts';
import { PlanRequest } from '../../../trials/schema/shapes.ts';
import { bodyOf, faultsOf, fewestMixes, firstWishes } from '../../../web/workbench/plan/plan-wishes.ts';

const trial = { brief: Brief.parse(demo) } as unknown as TrialView;
const few = trial.brief.components.length;
const first = firstWishes(trial, few);

describe('what is asked of a plan', () => {
  it('as it stands at first it is a request that the server takes', () => {
    const body = bodyOf(first, few)!;
    expect(body).toEqual({ mixes: Math.max(few + 2, 8), replicated: 1, model: 'quadratic' });
    expect(PlanRequest.safeParse(body).success).toBe(true);
  });

  it('after a round fewer mixes than components do', () => {
    expect(fewestMixes(trial, 0)).toBe(few);
    expect(fewestMixes(trial, few + 3)).toBe(1);
    expect(faultsOf({ ...first, mixes: '2' }, few).mixes).toMatch(`at least ${few}`);
    expect(bodyOf({ ...first, mixes: '2' }, 1)!.mixes).toBe(2);
  });

  it('everything that can be chosen, as the server takes it', () => {
    const [one] = trial.brief.components.map(({ id }) => id);
    const wishes = {
      ...{
        ...first,
        points: 'axial',
        scarce: one!,
        atMost: '2.5',
        loss: '0.02',
        save: one!,
        model: 'quadratic',
      },
    };
    const body = bodyOf(wishes, few)!;
    expect(body).toMatchObject({ points: 'axial', atMost: { [one!]: 2.5 }, thrift: 0.02, spare: [one] });
    expect(PlanRequest.safeParse(body).success).toBe(true);
    expect(bodyOf({ ...first, poured: '3' }, few)).toEqual({
      mixes: Math.max(few + 2, 8),
      perBottle: 3,
      model: 'quadratic',
    });
    expect(bodyOf({ ...first, screen: 'screen', model: 'quadratic' }, few)).toMatchObject({ screen: true });
    expect(bodyOf({ ...wishes, save: 'money' }, few)).not.toHaveProperty('spare');
  });

  it('what cannot be is said at its field, and nothing is asked', () => {
    for (const [wrong, key] of [
      [{ mixes: '7.5' }, 'mixes'],
      [{ poured: '0' }, 'poured'],
      [{ poured: '3', loss: '0.02' }, 'poured'],
      [{ poured: '3', screen: 'screen' }, 'poured'],
      [{ scarce: 'peel', atMost: '' }, 'atMost'],
      [{ replicated: 'x' }, 'replicated'],
    ] as const) {
      expect(Object.keys(faultsOf({ ...first, ...wrong }, few))).toEqual([key]);
      expect(bodyOf({ ...first, ...wrong }, few)).toBeNull();
    }
  });
});
