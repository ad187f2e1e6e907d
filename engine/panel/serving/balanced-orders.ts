import type { Random } from '../../numeric/random.ts';
import { balancedSquares } from './balanced-squares.ts';
import { countBalance, leastBalance, type OrderBalance } from './order-balance.ts';
import { searchOrders } from './order-search.ts';
import { shapeSittings } from './order-shape.ts';

/**
 * `count` orders of all `m` mixes, each position's servings as even as whole numbers allow, and with them what
 * follows what. Balanced squares hold the most of it; what is left over is a part of one more square, or a square
 * with rows taken out, or rows found by search, whichever is fairest.
 */
export function balancedOrders(m: number, count: number, random: Random): number[][] {
  const least = leastBalance(new Array<number>(count).fill(m), m);
  let best: number[][] | null = null;
  for (const way of [fromOneMore, withRowsAdded, withRowsRemoved, withPartOfPair]) {
    const found = way(m, count, random);
    if (found && (!best || fairer(found, best, m))) best = found;
    if (best && !lessFair(countBalance(best, m), least)) break;
  }
  return best!;
}

/** True where the first set of sittings is fairer: position first, then what follows what. */
function fairer(one: readonly number[][], other: readonly number[][], m: number): boolean {
  return lessFair(countBalance(other, m), countBalance(one, m));
}

export function lessFair(one: OrderBalance, other: OrderBalance): boolean {
  return one.positionSpread !== other.positionSpread
    ? one.positionSpread > other.positionSpread
    : one.followSpread > other.followSpread;
}

/** Any rows of one square in which each mix follows each other once leave both spreads at one. */
function fromOneMore(m: number, count: number, random: Random): number[][] | null {
  const whole = Math.floor(count / m);
  const left = count - whole * m;
  const squares = balancedSquares(m, whole, random);
  if (!squares || left === 0) return squares && shuffled(squares, m, random);
  const another = balancedSquares(m, 1, random);
  return another && [...shuffled(squares, m, random), ...random.shuffle(another).slice(0, left)];
}

/** Balanced squares and, by search, rows that share no position and no following pair. */
function withRowsAdded(m: number, count: number, random: Random): number[][] | null {
  const left = count % m;
  const squares = balancedSquares(m, (count - left) / m, random);
  if (!squares || left === 0) return null;
  return [...shuffled(squares, m, random), ...searchedRows(m, left, random)];
}

/** Balanced squares without a few rows that share no position and no following pair. */
function withRowsRemoved(m: number, count: number, random: Random): number[][] | null {
  const missing = m - (count % m);
  const squares = balancedSquares(m, (count + missing) / m, random);
  if (!squares || missing > MOST_REMOVED) return null;
  for (let attempt = 0; attempt < 200; attempt++) {
    const out = disjointRows(squares, missing, random);
    if (out) return shuffled(squares, m, random).filter((row) => !out.has(row));
  }
  return null;
}

const MOST_REMOVED = 4;

function disjointRows(rows: readonly number[][], count: number, random: Random): Set<number[]> | null {
  const out = new Set<number[]>();
  for (const row of random.shuffle(rows)) {
    if (out.size === count) break;
    if ([...out].every((other) => disjoint(row, other))) out.add(row);
  }
  return out.size === count ? out : null;
}

function disjoint(one: readonly number[], other: readonly number[]): boolean {
  const after = new Map(other.map((mix, k) => [mix, other[k + 1]]));
  return one.every((mix, k) => mix !== other[k] && (k + 1 === one.length || after.get(mix) !== one[k + 1]));
}

/** Squares in pairs and a part of one more pair, which leaves a spread of two; bettered by search where it can be. */
function withPartOfPair(m: number, count: number, random: Random): number[][] {
  const left = count % (2 * m);
  const squares = shuffled(balancedSquares(m, (count - left) / m, random)!, m, random);
  const worthwhile = left > m && m > 3;
  return [...squares, ...(worthwhile ? searchedRows(m, left, random) : partOfPair(m, left, random))];
}

function partOfPair(m: number, count: number, random: Random): number[][] {
  return shuffled(balancedSquares(m, 2, random)!, m, random).slice(0, count);
}

function searchedRows(m: number, count: number, random: Random): number[][] {
  const shape = shapeSittings(m, 1, m);
  const least = leastBalance(new Array<number>(count).fill(m), m);
  const start = partOfPair(m, count, random);
  let best = start;
  for (let attempt = 0; attempt < 2 && lessFair(countBalance(best, m), least); attempt++) {
    const found = searchOrders(
      start,
      { shape, served: [], steps: Math.min(250_000, 4000 * m * count) },
      random,
    );
    if (fairer(found, best, m)) best = found;
  }
  return best;
}

/** Rows shuffled within each square, so that any run of them stays near to balanced. */
function shuffled(rows: readonly number[][], m: number, random: Random): number[][] {
  const out: number[][] = [];
  for (let i = 0; i < rows.length; i += m) out.push(...random.shuffle(rows.slice(i, i + m)));
  return out;
}
