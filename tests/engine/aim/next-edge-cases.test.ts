import { beforeAll, describe, expect, it } from 'vitest';
import type { NextInput } from '../../../engine/aim/next-types.ts';
import { proposeNext } from '../../../engine/aim/propose-next.ts';
import { EngineError } from '../../../engine/errors.ts';
import type { LinearSolver } from '../../../engine/numeric/linear-solver.ts';
import { createRandom } from '../../../engine/numeric/random.ts';
import type { Attribute, Serving, Target } from '../../../engine/panel/observations.ts';
import { loadSolver } from '../../../trials/solver.ts';

let solver: LinearSolver;
beforeAll(async () => {
  solver = await loadSolver();
});

const space = {
  components: ['a', 'b', 'c'].map((id) => ({ id, low: 0.1, high: 0.7 })),
  bounds: [],
  settings: [],
};
const BLENDS = [
  [0.1, 0.2, 0.7],
  [0.7, 0.2, 0.1],
  [0.2, 0.7, 0.1],
  [0.4, 0.3, 0.3],
  [0.1, 0.5, 0.4],
  [0.3, 0.1, 0.6],
  [0.5, 0.4, 0.1],
];

function attribute(id: string, target: Target | null): Attribute {
  return { id, scale: [0, 100], target, tolerance: 8, weight: 1 };
}

/** Sweet goes with a, bitter with b, as four tasters with habits and 4 points of noise give them. */
function inputOf(mixes: number, more: Partial<NextInput> = {}): NextInput {
  const random = createRandom(4, 'edge cases');
  const made = BLENDS.slice(0, mixes).map((shares, i) => {
    return { mix: `m${i + 1}`, blend: `m${i + 1}`, shares, settings: [] };
  });
  const servings = made.flatMap(({ mix, shares }) =>
    ['P1', 'P2', 'P3', 'P4'].map((assessor, a): Serving => {
      const truth = [20 + 60 * shares[0]!, 15 + 70 * shares[1]!];
      const scores = truth.map((score) => Math.round(score + 3 * a - 4 + 4 * random.normal()));
      return { mix, assessor, session: 's', replicate: '1', position: null, scores };
    }),
  );
  return {
    space,
    names: { a: 'Anise', sweet: 'Sweet', bitter: 'Bitter' },
    batch: { grams: 4, readability: 0.01, tolerance: 0.02 },
    attributes: [
      attribute('sweet', { kind: 'value', value: 44 }),
      attribute('bitter', { kind: 'value', value: 36 }),
    ],
    mixes: made,
    servings,
    count: 2,
    seed: 1,
    ...more,
  };
}

function errorOf(input: NextInput): EngineError {
  try {
    proposeNext(input, { solver });
  } catch (thrown) {
    if (thrown instanceof EngineError) return thrown;
    throw thrown;
  }
  throw new Error('it was not refused');
}

const far = [
  attribute('sweet', { kind: 'value', value: 90 }),
  attribute('bitter', { kind: 'value', value: 85 }),
];

describe('the next mixes', () => {
  it.each([1, 2])(
    'say that %i blends tell nothing of the region, and never call it out of reach',
    (count) => {
      const { stop, warnings, proposals } = proposeNext(inputOf(count, { attributes: far }), { solver });
      expect(stop.advised).toBe(false);
      expect(stop.because).toMatch(/mostly guesses/);
      expect(stop.holdsBack).toEqual([]);
      expect(stop.before).toBeGreaterThanOrEqual(stop.after);
      expect(warnings.join()).toMatch(/where 3 tell the ingredients apart/);
      expect(proposals).toHaveLength(2);
    },
  );

  it('call a target out of reach once the scores say so, with what is missing', () => {
    const { stop } = proposeNext(inputOf(7, { attributes: far }), { solver });
    expect(stop.advised).toBe(true);
    expect(stop.because).toMatch(/^The target is out of reach in this region/);
    expect(stop.holdsBack.map(({ attribute: id }) => id).sort()).toEqual(['bitter', 'sweet']);
    for (const { miss } of stop.holdsBack) expect(miss).toBeLessThan(-15);
    expect(stop.because).toMatch(/a material that gives/);
  });

  it('name the limit that is in the way, and what giving way brings', () => {
    // sweet is 20 + 60 a: 70 wants five parts in six of a, where seven in ten are allowed
    const attributes = [
      attribute('sweet', { kind: 'value', value: 74 }),
      attribute('bitter', { kind: 'value', value: 22 }),
    ];
    const { stop } = proposeNext(inputOf(7, { attributes }), { solver });
    const [most] = stop.limits;
    expect(most!.limit).toBe('Anise at most 0.7');
    expect(most!.to).toBeCloseTo(0.79, 9);
    expect(most!.after).toBeLessThan(most!.before - 0.2);
  });

  it('give no chance where the reference was not poured, and say what to pour', () => {
    const attributes = [
      attribute('sweet', { kind: 'value', value: 44 }),
      attribute('bitter', { kind: 'reference' }),
    ];
    const { stop, best, proposals, warnings } = proposeNext(inputOf(5, { attributes }), { solver });
    for (const { chance } of [best, ...proposals]) expect(chance).toBeNull();
    expect(best.predicted.sweet!.chance).toBeGreaterThan(0);
    expect(best.predicted.bitter!.chance).toBeNull();
    expect(stop.advised).toBe(false);
    expect(stop.because).toMatch(/Bitter\. Pour it among the mixes/);
    expect(warnings.join()).toMatch(/Compared with the reference, which has not been scored: Bitter/);
  });

  it('refuse where all aims wait for the reference', () => {
    const attributes = ['sweet', 'bitter'].map((id) => attribute(id, { kind: 'reference' }));
    const { fault, allowed } = errorOf(inputOf(5, { attributes }));
    expect(fault).toBe('no-data');
    expect(allowed).toMatch(/Pour it among the mixes/);
  });

  it('predict nothing of an attribute that nobody scored', () => {
    const input = inputOf(5);
    const servings = input.servings.map((one) => ({ ...one, scores: [one.scores[0]!, null] }));
    const { best, warnings } = proposeNext({ ...input, servings }, { solver });
    expect(Object.keys(best.predicted)).toEqual(['sweet']);
    expect(best.chance).toBeNull();
    expect(warnings.join()).toMatch(/not scored on any mix: Bitter/);
  });

  it('pass over mixes that wait to be tasted, and go on with names after them', () => {
    const whole = inputOf(7);
    const servings = whole.servings.filter(({ mix }) => mix !== 'm6' && mix !== 'm7');
    const { proposals, warnings } = proposeNext({ ...whole, servings }, { solver });
    expect(warnings.join()).toMatch(/not scored yet: m6 and m7/);
    for (const { mix, again } of proposals) if (!again) expect(Number(mix.slice(1))).toBeGreaterThan(7);
    for (const { ratios, again } of proposals)
      for (const shares of BLENDS.slice(5, 7))
        if (!again) expect(Math.hypot(ratios.a! - shares[0]!, ratios.b! - shares[1]!)).toBeGreaterThan(0.02);
  });

  it('need no more of a component than is on hand, and fall back on pouring again', () => {
    const onHand = { a: 2.5 };
    const { proposals } = proposeNext(inputOf(7, { onHand, count: 3 }), { solver });
    const used = proposals.filter(({ again }) => !again).reduce((sum, { grams }) => sum + grams.a!, 0);
    expect(used).toBeLessThanOrEqual(2.5 + 1e-9);
    const none = proposeNext(inputOf(7, { onHand: { a: 0 } }), { solver });
    for (const { again } of none.proposals) expect(again).toBe(true);
    expect(errorOf(inputOf(7, { onHand: { x: 1 } })).argument).toBe('onHand');
  });

  it('are the same for the same seed and refuse a count of none', () => {
    const run = () => JSON.stringify(proposeNext(inputOf(4), { solver }));
    expect(run()).toBe(run());
    expect(errorOf(inputOf(4, { count: 0 })).argument).toBe('count');
    const unscored = inputOf(4).servings.map((one) => ({ ...one, scores: [null, null] }));
    expect(errorOf(inputOf(4, { servings: unscored })).fault).toBe('no-data');
  });
});
