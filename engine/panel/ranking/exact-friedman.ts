import { distinctOrders } from './midranks.ts';

/** No more mixes than this are counted out: their orders alone are 5040. */
const MOST_MIXES = 7;

/**
 * Exact p of Friedman's test: the share of all equally likely orders (each assessor's own ranks, ties and all, dealt
 * out to the mixes in every way) whose rank sums are spread at least as far as those seen. Rank sums are kept
 * sorted, since dealing treats all mixes alike, and doubled, so that they stay whole.
 *
 * @returns null where counting takes more than `work` steps
 */
export function exactFriedman(ranks: readonly (readonly number[])[], work: number): number | null {
  const k = ranks[0]!.length;
  if (k > MOST_MIXES) return null;
  let states = new Map<string, { sums: number[]; share: number }>();
  states.set('', { sums: new Array<number>(k).fill(0), share: 1 });
  let steps = 0;
  for (const row of ranks) {
    const { orders, share } = distinctOrders(row.map((r) => 2 * r));
    steps += states.size * orders.length;
    if (steps > work) return null;
    states = dealt(states, orders, share);
  }
  const seen = spreadOf(ranks[0]!.map((_, j) => ranks.reduce((sum, row) => sum + 2 * row[j]!, 0)));
  let p = 0;
  for (const { sums, share } of states.values()) if (spreadOf(sums) >= seen) p += share;
  return Math.min(1, p);
}

function dealt(
  states: Map<string, { sums: number[]; share: number }>,
  orders: readonly number[][],
  share: number,
): Map<string, { sums: number[]; share: number }> {
  const next = new Map<string, { sums: number[]; share: number }>();
  for (const state of states.values())
    for (const order of orders) {
      const sums = state.sums.map((s, j) => s + order[j]!).sort((a, b) => a - b);
      const key = sums.join();
      const known = next.get(key);
      if (known) known.share += state.share * share;
      else next.set(key, { sums, share: state.share * share });
    }
  return next;
}

/** k² times the variance of whole numbers: whole itself, so that ties with what was seen are exact. */
function spreadOf(sums: readonly number[]): number {
  const total = sums.reduce((a, b) => a + b, 0);
  return sums.reduce((sum, s) => sum + (sums.length * s - total) ** 2, 0);
}
