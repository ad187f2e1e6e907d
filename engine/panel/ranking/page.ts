import { EngineError } from '../../errors.ts';
import { normalUpper } from '../../numeric/normal.ts';
import { distinctOrders, midranks, rankSpread, rankTable } from './midranks.ts';

export interface PageTrend {
  /** L = Σ expected rank × rank sum. */
  statistic: number;
  expected: number;
  standardDeviation: number;
  /** Null, with the p's, where every assessor ranked all mixes alike. */
  z: number | null;
  /** One-sided: do ranks rise in the expected order? From the normal distribution. */
  p: number | null;
  /** From all orders that the assessors could have given; null for more than eight mixes. */
  pExact: number | null;
  reason: string | null;
}

const MOST_MIXES = 8;

/**
 * Page's test that ranks rise along an expected order, with ties. Source: Page 1963, J. Am. Stat. Assoc. 58, 216-230;
 * the variance is taken from each assessor's own ranks, which allows for ties.
 *
 * @param scores assessors × mixes, complete; larger is more
 * @param order for each mix its expected place (any numbers that rise in the expected order; equal ones share a place)
 */
export function pageTrend(scores: readonly (readonly number[])[], order: readonly number[]): PageTrend {
  const ranks = rankTable(scores);
  const k = ranks[0]!.length;
  if (order.length !== k) throw new EngineError('bad-argument', 'order', order.length, `${k} places`);
  const weights = midranks(order);
  const along = (row: readonly number[]) => row.reduce((sum, r, j) => sum + r * weights[j]!, 0);
  const statistic = ranks.reduce((sum, row) => sum + along(row), 0);
  const expected = (ranks.length * k * (k + 1) ** 2) / 4;
  const variance = ranks.reduce((sum, row) => sum + (rankSpread(row) * rankSpread(weights)) / (k - 1), 0);
  const base = { statistic, expected, standardDeviation: Math.sqrt(variance) };
  if (variance === 0)
    return {
      ...base,
      z: null,
      p: null,
      pExact: null,
      reason: 'every assessor ranked all mixes alike, or no order was expected',
    };
  const z = (statistic - expected) / Math.sqrt(variance);
  return { ...base, z, p: normalUpper(z), pExact: exactUpper(ranks, weights, statistic), reason: null };
}

/** Share of all equally likely orders whose L is at least that seen, by adding up assessor after assessor. */
function exactUpper(ranks: readonly number[][], weights: readonly number[], seen: number): number | null {
  if (weights.length > MOST_MIXES) return null;
  const known = new Map<string, Map<number, number>>();
  let total = new Map([[0, 1]]);
  for (const row of ranks) {
    const look = [...row].sort((a, b) => a - b).join();
    const one = known.get(look) ?? distributionOf(row, weights);
    known.set(look, one);
    total = convolve(total, one);
  }
  let p = 0;
  for (const [value, share] of total) if (value >= Math.round(4 * seen)) p += share;
  return Math.min(1, p);
}

/** Shares of 4 Σ weight × rank over all orders of one assessor's ranks; four times, so that midranks stay whole. */
function distributionOf(row: readonly number[], weights: readonly number[]): Map<number, number> {
  const { orders, share } = distinctOrders(row.map((r) => 2 * r));
  const out = new Map<number, number>();
  for (const order of orders) {
    const value = Math.round(order.reduce((sum, r, j) => sum + 2 * r * weights[j]!, 0));
    out.set(value, (out.get(value) ?? 0) + share);
  }
  return out;
}

function convolve(a: Map<number, number>, b: Map<number, number>): Map<number, number> {
  const out = new Map<number, number>();
  for (const [x, p] of a) for (const [y, q] of b) out.set(x + y, (out.get(x + y) ?? 0) + p * q);
  return out;
}
