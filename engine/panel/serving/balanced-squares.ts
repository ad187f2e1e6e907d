import type { Random } from '../../numeric/random.ts';

/**
 * Base rows of row-complete Latin squares of order 9 and 15: each is developed by adding 1 … g-1 within groups of
 * g symbols. Such squares of odd order exist for composite orders (Archdeacon, Dinitz, Stinson and Tillson 1980);
 * these were found by our own search and are proved by counting in the tests.
 */
const ROW_COMPLETE: Record<number, { group: number; rows: readonly (readonly number[])[] }> = {
  9: {
    group: 3,
    rows: [
      [1, 5, 8, 0, 6, 4, 2, 7, 3],
      [6, 8, 5, 7, 0, 1, 4, 3, 2],
      [4, 1, 0, 5, 3, 7, 8, 2, 6],
    ],
  },
  15: {
    group: 5,
    rows: [
      [0, 14, 8, 13, 11, 12, 5, 1, 4, 9, 6, 10, 3, 7, 2],
      [5, 8, 2, 9, 1, 3, 4, 14, 6, 13, 10, 0, 12, 11, 7],
      [14, 1, 12, 3, 6, 7, 13, 8, 11, 0, 4, 5, 9, 2, 10],
    ],
  },
};

/**
 * Two rows each which, with the zigzag and developed together, hold every difference three times: three squares in
 * which each mix follows each other mix three times. Found by our own search, proved by counting in the tests.
 */
const THIRD_SQUARES: Record<number, readonly [readonly number[], readonly number[]]> = {
  5: [
    [0, 1, 3, 2, 4],
    [0, 4, 2, 1, 3],
  ],
  7: [
    [0, 3, 4, 6, 1, 5, 2],
    [0, 6, 5, 2, 4, 3, 1],
  ],
  11: [
    [0, 10, 4, 8, 3, 5, 6, 9, 2, 1, 7],
    [0, 7, 4, 8, 6, 5, 2, 10, 1, 3, 9],
  ],
  13: [
    [0, 4, 9, 8, 5, 12, 1, 11, 10, 3, 7, 6, 2],
    [0, 2, 10, 7, 8, 3, 6, 12, 1, 5, 11, 9, 4],
  ],
};

/**
 * `count` Latin squares of order `m` in which each mix stands `count` times at each position and follows each other
 * mix `count` times; null where no such set is known. Even orders and 9 and 15 need one square at a time, other odd
 * orders two (Williams 1949), or three of the orders above. Each set has its mixes renamed at random.
 */
export function balancedSquares(m: number, count: number, random: Random): number[][] | null {
  if (count === 0) return [];
  const single = singleSquare(m);
  if (single) return sets(count, () => renamed(single, m, random));
  const triple = count % 2 === 1 ? threeSquares(m) : [];
  if (!triple || (count % 2 === 1 && count < 3)) return null;
  const pairs = sets((count - (count % 2 === 1 ? 3 : 0)) / 2, () => renamed(twoSquares(m), m, random));
  return [...pairs, ...renamed(triple, m, random)];
}

function singleSquare(m: number): number[][] | null {
  if (m % 2 === 0 || m === 1) return developed(zigzag(m), m);
  const known = ROW_COMPLETE[m];
  return known ? known.rows.flatMap((row) => developed(row, known.group)) : null;
}

function twoSquares(m: number): number[][] {
  const base = zigzag(m);
  return [...developed(base, m), ...developed(base.toReversed(), m)];
}

function threeSquares(m: number): number[][] | null {
  const more = THIRD_SQUARES[m];
  return more ? [zigzag(m), ...more].flatMap((row) => developed([...row], m)) : null;
}

/** 0, 1, m-1, 2, m-2, …: neighbours differ by each amount once (m even) or half of the amounts twice (m odd). */
function zigzag(m: number): number[] {
  return Array.from({ length: m }, (_, k) => (k % 2 === 1 ? (k + 1) / 2 : (m - k / 2) % m));
}

/** The row with 0 … g-1 added to each symbol within its group of g. */
function developed(row: readonly number[], group: number): number[][] {
  return Array.from({ length: group }, (_, add) => row.map((s) => s - (s % group) + ((s + add) % group)));
}

function renamed(rows: readonly number[][], m: number, random: Random): number[][] {
  const names = random.shuffle(Array.from({ length: m }, (_, i) => i));
  return rows.map((row) => row.map((s) => names[s]!));
}

function sets(count: number, make: () => number[][]): number[][] {
  return Array.from({ length: count }, make).flat();
}
