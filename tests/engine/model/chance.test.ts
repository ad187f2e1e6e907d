import { describe, expect, it } from 'vitest';
import { chancesOf } from '../../../engine/model/chance.ts';
import type { ScoreDraws } from '../../../engine/model/posterior-types.ts';
import type { Target } from '../../../engine/panel/observations.ts';
import { attribute } from '../panel/panel-data.ts';

/** Four draws of three points for each attribute. */
function drawsOf(...scores: number[][]): ScoreDraws {
  return {
    count: 4,
    points: 3,
    scores: scores.map((s) => Float64Array.from(s)),
    reference: scores.map(() => Float64Array.from([50, 60, 70, 80])),
  };
}
const scores = [40, 50, 60, 48, 52, 61, 55, 70, 62, 66, 90, 58];
const aimedAt = (target: Target | null, tolerance = 5) => attribute('x', { target, tolerance });

/** The points after those wanted stand for the region. */
function chance(target: Target, tolerance = 5, wanted = 3): number[] {
  const { each } = chancesOf([aimedAt(target, tolerance)], drawsOf(scores), [true], wanted);
  return [...each[0]!];
}

describe('chance by hand', () => {
  it('counts draws within tolerance of a value, the edge included', () => {
    expect(chance({ kind: 'value', value: 55 })).toEqual([0.25, 0.5, 0.5]);
  });
  it('measures a range from its nearer end', () => {
    expect(chance({ kind: 'range', low: 50, high: 60 }, 2)).toEqual([0.5, 0.5, 1]);
  });
  it('compares each draw with its own most and its own least of the region, not with the other points', () => {
    expect(chance({ kind: 'most' }, 5, 2)).toEqual([0.25, 0.5]);
    expect(chance({ kind: 'least' }, 5, 2)).toEqual([0.75, 0.5]);
  });
  it('compares each draw with the reference of the same draw', () => {
    expect(chance({ kind: 'reference' }, 8)).toEqual([0, 0.75, 0.5]);
  });
  it('cuts scores off at the scale before comparing', () => {
    const low = drawsOf([-20, -9, -1, -20, -9, -1, -20, -9, -1, -20, -9, -1]);
    const { each } = chancesOf([aimedAt({ kind: 'value', value: 4 }, 4)], low, [true], 3);
    expect([...each[0]!]).toEqual([1, 1, 1]);
  });
  it('asks for all aimed attributes in the same draw', () => {
    const other = scores.map((_, at) => (Math.floor(at / 3) < 2 ? 55 : 0));
    const { joint, each } = chancesOf(
      [
        aimedAt({ kind: 'range', low: 50, high: 62 }, 0),
        aimedAt({ kind: 'value', value: 55 }),
        aimedAt(null),
      ],
      drawsOf(scores, other, scores),
      [true, true, true],
      3,
    );
    expect([...each[0]!]).toEqual([0.25, 0.5, 1]);
    expect([...each[1]!]).toEqual([0.5, 0.5, 0.5]);
    expect(each[2]).toBeNull();
    expect([...joint!]).toEqual([0, 0.5, 0.5]);
  });
  it('gives no joint chance where an aimed attribute cannot be judged, or nothing is aimed at', () => {
    const value: Target = { kind: 'value', value: 55 };
    const two = [aimedAt(value), aimedAt(value)];
    expect(chancesOf(two, drawsOf(scores, scores), [true, false], 3).joint).toBeNull();
    const untasted = { ...drawsOf(scores), reference: [null] };
    expect(chancesOf([aimedAt({ kind: 'reference' })], untasted, [true], 3).each).toEqual([null]);
    expect(chancesOf([aimedAt(null)], drawsOf(scores), [true], 3).joint).toBeNull();
  });
});
