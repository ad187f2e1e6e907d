import { EngineError } from '../../errors.ts';

/** Ranks from 1, equal values sharing the mean of their ranks. */
export function midranks(values: readonly number[]): number[] {
  const order = [...values.keys()].sort((a, b) => values[a]! - values[b]!);
  const ranks = new Array<number>(values.length);
  for (let from = 0; from < order.length; ) {
    let to = from;
    while (to < order.length && values[order[to]!] === values[order[from]!]) to++;
    for (let i = from; i < to; i++) ranks[order[i]!] = (from + 1 + to) / 2;
    from = to;
  }
  return ranks;
}

/**
 * Ranks within each assessor of a complete table (assessors × mixes, at least 2 mixes), larger scores ranked higher.
 */
export function rankTable(scores: readonly (readonly number[])[]): number[][] {
  const k = scores[0]?.length ?? 0;
  if (scores.length === 0 || k < 2 || scores.some((row) => row.length !== k || !row.every(Number.isFinite)))
    throw new EngineError('bad-argument', 'scores', scores, 'a complete table of numbers, assessors × mixes');
  return scores.map(midranks);
}

/** Σ (r - mean rank)² of one assessor's ranks. */
export function rankSpread(ranks: readonly number[]): number {
  const mean = (ranks.length + 1) / 2;
  return ranks.reduce((sum, r) => sum + (r - mean) ** 2, 0);
}

/** Every distinct order of some whole numbers, each with its share of all orders. */
export function distinctOrders(values: readonly number[]): { orders: number[][]; share: number } {
  const orders: number[][] = [];
  const left = new Map<number, number>();
  for (const v of values) left.set(v, (left.get(v) ?? 0) + 1);
  const place = (so: number[]) => {
    if (so.length === values.length) orders.push([...so]);
    else
      for (const [v, count] of left) {
        if (count === 0) continue;
        left.set(v, count - 1);
        so.push(v);
        place(so);
        so.pop();
        left.set(v, count);
      }
  };
  place([]);
  return { orders, share: 1 / orders.length };
}
