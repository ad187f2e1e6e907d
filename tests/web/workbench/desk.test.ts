import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import demo from '../../../trials/demo/brief.json' with { type: 'json' };
import { Brief } from '../../../trials/schema/brief.ts';
import { toBlendSpace } from '../../../trials/schema/engine-shapes.ts';
import {
  type DeskState,
  seamReach,
  sidesOf,
  withLock,
  withSeam,
} from '../../../web/workbench/desk/desk-state.ts';
import {
  excess,
  limitsOf,
  nearestWeighable,
  reach,
  sharesOf,
  toSteps,
} from '../../../web/workbench/desk/weighable.ts';

const limits = limitsOf(toBlendSpace(Brief.parse(demo)));
const TOTAL = 400;
const REFERENCE = [152, 80, 48, 64, 56];
const start: DeskState = { steps: REFERENCE, locked: REFERENCE.map(() => false), settings: { dose: 0.25 } };
const moves = fc.array(
  fc.record({ seam: fc.nat(3), by: fc.integer({ min: -200, max: 200 }), lock: fc.option(fc.nat(4)) }),
  {
    maxLength: 40,
  },
);

describe('the desk', () => {
  it('stays allowed and weighable whatever is dragged and locked (property)', () => {
    fc.assert(
      fc.property(moves, (list) => {
        let state = start;
        for (const { seam, by, lock } of list) {
          if (lock !== null) state = withLock(state, lock);
          state = withSeam(limits, state, seam, by);
          expect(state.steps.every((step) => Number.isInteger(step) && step >= 0)).toBe(true);
          expect(state.steps.reduce((a, b) => a + b, 0)).toBe(TOTAL);
          expect(excess(limits, sharesOf(state.steps))).toBe(0);
        }
      }),
      { seed: 7, numRuns: 300 },
    );
  });

  it('never moves a locked share', () => {
    fc.assert(
      fc.property(moves, fc.nat(4), (list, index) => {
        let state = withLock(start, index);
        for (const { seam, by } of list) state = withSeam(limits, state, seam, by);
        expect(state.steps[index]).toBe(REFERENCE[index]);
      }),
      { seed: 8, numRuns: 200 },
    );
  });

  it('lets a seam go exactly as far as the brief allows: one step further would not be', () => {
    for (let seam = 0; seam < 4; seam++) {
      const [least, most] = seamReach(limits, start, seam);
      const [left, right] = sidesOf(start, seam)!;
      for (const by of [least - 1, most + 1]) {
        const beyond = REFERENCE.map((step, i) => step + (i === left ? by : i === right ? -by : 0));
        expect(excess(limits, sharesOf(beyond))).toBeGreaterThan(0);
      }
    }
  });

  it('moves the nearest unlocked shares on both sides of a seam', () => {
    const state = withLock(withLock(start, 1), 2);
    expect(sidesOf(state, 1)).toEqual([0, 3]);
    expect(
      sidesOf(
        REFERENCE.reduce((s, _, i) => (i < 3 ? withLock(s, i) : s), start),
        1,
      ),
    ).toBeNull();
  });

  it('takes back a move by its opposite', () => {
    const moved = withSeam(limits, start, 2, 5);
    expect(withSeam(limits, moved, 2, -5).steps).toEqual(start.steps);
  });
});

describe('whole steps of the balance', () => {
  it('sum to the batch, each within a step of its share', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0.001, max: 1, noNaN: true }), { minLength: 2, maxLength: 12 }),
        (raw) => {
          const sum = raw.reduce((a, b) => a + b, 0);
          const shares = raw.map((share) => share / sum);
          const steps = toSteps(shares, TOTAL);
          expect(steps.reduce((a, b) => a + b, 0)).toBe(TOTAL);
          steps.forEach((step, i) => {
            expect(Math.abs(step - shares[i]! * TOTAL)).toBeLessThan(1.000001);
          });
        },
      ),
      { seed: 9, numRuns: 300 },
    );
  });

  it('are found near a ratio that is not allowed, or said not to be', () => {
    const near = nearestWeighable(limits, [0.6, 0.1, 0.1, 0.1, 0.1], TOTAL);
    expect(near).not.toBeNull();
    expect(excess(limits, sharesOf(near!))).toBe(0);
    const tight = [
      { a: [1, 0], limit: 0.333 },
      { a: [-1, 0], limit: -0.332 },
    ];
    expect(nearestWeighable(tight, [0.3325, 0.6675], 10)).toBeNull();
  });

  it('reach along a direction ends at the nearest limit', () => {
    expect(
      reach(
        [
          { a: [1, 0], limit: 0.7 },
          { a: [0, 1], limit: 0.9 },
        ],
        [0.5, 0.5],
        [1, -1],
      ),
    ).toEqual([expect.closeTo(-0.4, 8), expect.closeTo(0.2, 8)]);
  });
});
