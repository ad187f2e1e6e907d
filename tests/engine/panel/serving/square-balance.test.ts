import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { createRandom } from '../../../../engine/numeric/random.ts';
import { balancedOrders } from '../../../../engine/panel/serving/balanced-orders.ts';
import { balancedSquares } from '../../../../engine/panel/serving/balanced-squares.ts';
import { countBalance, leastBalance } from '../../../../engine/panel/serving/order-balance.ts';

const reference = JSON.parse(readFileSync('tests/reference/serving/serving-orders.json', 'utf8'));

/** How often each mix stands at each position, and each follows each other: [fewest, most] of both. */
function counted(rows: readonly (readonly number[])[], m: number) {
  const at = new Map<string, number>();
  const after = new Map<string, number>();
  for (const row of rows)
    row.forEach((mix, k) => {
      at.set(`${k} ${mix}`, (at.get(`${k} ${mix}`) ?? 0) + 1);
      if (k > 0) after.set(`${row[k - 1]} ${mix}`, (after.get(`${row[k - 1]} ${mix}`) ?? 0) + 1);
    });
  expect(at.size).toBe(m * m);
  expect(after.size).toBe(m * (m - 1));
  return { at: [...new Set(at.values())], after: [...new Set(after.values())] };
}

test('the stored squares of Williams (1949) hold what he proved, counted our way', () => {
  for (const { n, rows } of reference.williams) {
    const times = n % 2 === 0 ? 1 : 2;
    expect(counted(rows, n)).toEqual({ at: [times], after: [times] });
    expect(countBalance(rows, n)).toEqual({ positionSpread: 0, followSpread: 0 });
  }
});

test.each([2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18])(
  '%i mixes: each balanced set holds each position and each following pair equally often',
  (m) => {
    for (let count = 1; count <= 5; count++) {
      const rows = balancedSquares(m, count, createRandom(m, String(count)));
      const known = m % 2 === 0 || m === 9 || m === 15 || count % 2 === 0;
      const three = [5, 7, 11, 13].includes(m) && count >= 3;
      expect(rows !== null).toBe(known || three);
      if (rows) expect(counted(rows, m)).toEqual({ at: [count], after: [count] });
    }
  },
);

test('three mixes: no set of orders is fairer than ours (all multisets of the six orders)', () => {
  const orders = [
    [0, 1, 2],
    [1, 2, 0],
    [2, 0, 1],
    [0, 2, 1],
    [2, 1, 0],
    [1, 0, 2],
  ];
  for (let count = 2; count <= 10; count++) {
    let best = [Infinity, Infinity];
    const visit = (kind: number, left: number, rows: number[][]): void => {
      if (kind === 5) {
        const all = [...rows, ...new Array<number[]>(left).fill(orders[5]!)];
        const { positionSpread, followSpread } = countBalance(all, 3);
        if (positionSpread < best[0]! || (positionSpread === best[0] && followSpread < best[1]!))
          best = [positionSpread, followSpread];
        return;
      }
      for (let n = 0; n <= left; n++)
        visit(kind + 1, left - n, [...rows, ...new Array<number[]>(n).fill(orders[kind]!)]);
    };
    visit(0, count, []);
    const ours = countBalance(balancedOrders(3, count, createRandom(count)), 3);
    expect([ours.positionSpread, ours.followSpread]).toEqual(best);
  }
});

test('five mixes, four assessors: four orders without a common position must share a following pair', () => {
  const orders = permutations([0, 1, 2, 3, 4]).filter((o) => clashFree(o, [0, 1, 2, 3, 4]));
  let found = 0;
  for (let a = 0; a < orders.length; a++)
    for (let b = a + 1; b < orders.length; b++) {
      if (!clashFree(orders[a]!, orders[b]!)) continue;
      for (let c = b + 1; c < orders.length; c++)
        if (clashFree(orders[a]!, orders[c]!) && clashFree(orders[b]!, orders[c]!)) found++;
    }
  expect(orders.length).toBeGreaterThan(10);
  expect(found).toBe(0);
  expect(countBalance(balancedOrders(5, 4, createRandom(1)), 5)).toEqual({
    positionSpread: 1,
    followSpread: 2,
  });
});

function permutations(items: number[]): number[][] {
  if (items.length < 2) return [items];
  return items.flatMap((x) => permutations(items.filter((y) => y !== x)).map((rest) => [x, ...rest]));
}

function clashFree(one: readonly number[], other: readonly number[]): boolean {
  const pairs = new Set(other.slice(1).map((mix, k) => `${other[k]} ${mix}`));
  return one.every((mix, k) => mix !== other[k] && (k === 0 || !pairs.has(`${one[k - 1]} ${mix}`)));
}

test('2 to 16 mixes (11 and 13 apart), 2 to 60 assessors: positions at the least possible, following within one', () => {
  let above = 0;
  for (const m of [2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 15, 16])
    for (let n = 2; n <= 60; n++) {
      const rows = balancedOrders(m, n, createRandom(n));
      const found = countBalance(rows, m);
      const least = leastBalance(new Array<number>(n).fill(m), m);
      expect(rows.every((row) => new Set(row).size === m && row.length === m)).toBe(true);
      expect(found.positionSpread).toBe(least.positionSpread);
      const oddSquare = n % m === 0 && n % (2 * m) !== 0;
      const hardest = [3, 5, 7].includes(m) && (m === 3 ? oddSquare : n === m);
      expect(found.followSpread).toBeLessThanOrEqual(hardest ? 2 : least.followSpread + 1);
      if (found.followSpread > least.followSpread) above++;
    }
  console.log(`serving orders above the counting bound for following: ${above} of ${13 * 59}`);
  expect(above).toBeLessThanOrEqual(40);
});
