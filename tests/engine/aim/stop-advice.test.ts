import { describe, expect, it } from 'vitest';
import { type StopEvidence, stopAdvice } from '../../../engine/aim/stopping.ts';

const SURE: StopEvidence = {
  ...{ chance: 0.83, highestChance: 0.84, before: 6.7, after: 6.5, panelStep: 8 },
  ...{ confirmed: true, reachable: 0.6, blends: 6, blendsNeeded: 2, doubt: 0.6 },
  ...{ missing: [], holdsBack: [], limits: [] },
};

describe('advice to stop', () => {
  it('comes once a mix like the best was tasted and its profile is known', () => {
    expect(stopAdvice(SURE)).toEqual({ advised: true, because: expect.stringMatching(/83 in 100.*tasted/) });
  });

  it('does not come from one cup of one mix, whatever the chance is taken to be', () => {
    const { advised, because } = stopAdvice({ ...SURE, blends: 1, doubt: 2 });
    expect(advised).toBe(false);
    expect(because).toMatch(/With 1 of the 2 blends .* mostly guesses/);
  });
});
