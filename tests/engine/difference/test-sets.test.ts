import { describe, expect, test } from 'vitest';
import { DIFFERENCE_METHODS, factsOf } from '../../../engine/difference/methods.ts';
import { drawTestSets, rightPlaces } from '../../../engine/difference/test-sets.ts';
import { createRandom } from '../../../engine/numeric/random.ts';

const ORDERS = { triangle: 6, 'duo-trio': 4, tetrad: 6, 'two-afc': 2, 'three-afc': 3 } as const;

describe.each(DIFFERENCE_METHODS)('sets of a %s test', (method) => {
  test.each([
    [1, 1],
    [4, 3],
    [6, 1],
    [7, 5],
    [12, 2],
    [9, 8],
  ])(
    'for %i assessors, %i sets each: every order as often as every other, or once more',
    (assessors, sets) => {
      const rows = drawTestSets({ method, assessors, sets }, createRandom(5));
      expect(rows.map((row) => row.length)).toEqual(new Array(assessors).fill(sets));
      const served = rows.flat().map((set) => set.join(''));
      expect(served.every((order) => order.length === factsOf(method).cups)).toBe(true);
      const counts = new Map<string, number>();
      for (const order of served) counts.set(order, (counts.get(order) ?? 0) + 1);
      const times = [...counts.values()];
      if (served.length >= ORDERS[method]) expect(counts.size).toBe(ORDERS[method]);
      else expect(counts.size).toBe(served.length);
      expect(Math.max(...times) - Math.min(...times)).toBeLessThanOrEqual(1);
      for (const row of rows) {
        const first = row.slice(0, ORDERS[method]).map((set) => set.join(''));
        expect(new Set(first).size).toBe(first.length);
      }
    },
  );

  test('answered at random are right as often as the method says', () => {
    const random = createRandom(11);
    const open = method === 'duo-trio' || method === 'tetrad' ? 1 : 0;
    let right = 0;
    const rounds = 20_000;
    for (let n = 0; n < rounds; n++) {
      const set = drawTestSets({ method, assessors: 1, sets: 1 }, random)[0]![0]!;
      const places = rightPlaces(method, set, 'b');
      expect(places).toHaveLength(1);
      if (places[0] === open + random.integer(set.length - open)) right++;
    }
    // Five standard deviations of a count of 20,000 are at most 0.018.
    expect(Math.abs(right / rounds - factsOf(method).chance)).toBeLessThan(0.018);
  });
});

test('a duo-trio with a known drink always marks it', () => {
  const rows = drawTestSets({ method: 'duo-trio', assessors: 8, sets: 3, markA: true }, createRandom(2));
  expect(rows.flat().map(([first]) => first)).toEqual(new Array(24).fill('a'));
});

test('right answers by hand', () => {
  expect(rightPlaces('triangle', ['m', 'n', 'm'], '')).toEqual([1]);
  expect(rightPlaces('duo-trio', ['m', 'n', 'm'], '')).toEqual([2]);
  expect(rightPlaces('tetrad', ['m', 'n', 'n', 'm'], '')).toEqual([3]);
  expect(rightPlaces('two-afc', ['m', 'n'], 'n')).toEqual([1]);
  expect(rightPlaces('three-afc', ['n', 'm', 'm'], 'n')).toEqual([0]);
});
