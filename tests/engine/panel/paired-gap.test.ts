import { describe, expect, test } from 'vitest';
import { EngineError } from '../../../engine/errors.ts';
import { pairedGap } from '../../../engine/panel/paired-gap.ts';
import sleep from '../../reference/panel/paired-gap.json' with { type: 'json' };

/** Fifteen digits were printed. */
const close = (value: number | null | undefined, expected: number) =>
  expect(Math.abs(value! - expected)).toBeLessThan(1e-12 + 1e-11 * Math.abs(expected));

describe('the gap between paired scores', () => {
  test('is that of R’s paired t test', () => {
    const gap = pairedGap(sleep.first, sleep.second);
    expect([gap.pairs, gap.reason]).toEqual([10, null]);
    close(gap.mean, sleep.mean);
    close(gap.standardError, sleep.standardError);
    close(gap.interval?.[0], sleep.low);
    close(gap.interval?.[1], sleep.high);
    close(gap.p, sleep.p);
  });

  test('changes its sign with the two lists, and not with a point added to everything', () => {
    const [there, back] = [pairedGap(sleep.first, sleep.second), pairedGap(sleep.second, sleep.first)];
    close(back.mean, -there.mean!);
    close(back.interval?.[0], -there.interval![1]);
    const shifted = pairedGap(
      sleep.first.map((x) => x + 1e6),
      sleep.second.map((x) => x + 1e6),
    );
    expect(shifted.mean).toBeCloseTo(there.mean!, 8);
  });

  test('leaves out who gave only one score, and says what too few pairs cannot tell', () => {
    expect(pairedGap([1, null, 4], [0, 3, null])).toMatchObject({ pairs: 1, mean: 1, interval: null });
    expect(pairedGap([null], [2])).toMatchObject({ pairs: 0, mean: null, reason: 'no pair' });
    expect(pairedGap([3, 4], [1, 2])).toMatchObject({ mean: 2, interval: [2, 2], p: null });
    expect(() => pairedGap([1], [])).toThrow(EngineError);
  });
});
