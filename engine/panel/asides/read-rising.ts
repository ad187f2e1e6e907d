import { EngineError } from '../../errors.ts';
import { type PageTrend, pageTrend } from '../ranking/page.ts';
import type { AsideAnswer } from './aside-types.ts';
import { ordersOf } from './orders.ts';

export interface RisingReading extends Omit<PageTrend, 'statistic' | 'expected' | 'standardDeviation'> {
  /** The expected order, least first. */
  order: string[];
  /** Tasters who ranked all of these mixes: the only ones whom the test counts. */
  orders: number;
  /** Page's L with what it would be by chance; null where nobody ranked all. */
  statistic: number | null;
  expected: number | null;
  standardDeviation: number | null;
  says: string;
}

const APART = 0.05;

/** Do places rise along an expected order? Page's test (beside `pageTrend`) over whoever ranked all of its mixes. */
export function readRising(answers: readonly AsideAnswer[], order: readonly string[]): RisingReading {
  const known = new Set(answers.map(({ mix }) => mix));
  const stranger = order.find((mix) => !known.has(mix));
  if (stranger !== undefined || order.length < 2)
    throw new EngineError(
      'bad-argument',
      'rising',
      stranger ?? order,
      `two of ${[...known].join(', ')} or more`,
    );
  const asked = answers.filter(({ mix }) => order.includes(mix));
  const blocks = ordersOf(asked, order).filter(({ items }) => items.length === order.length);
  if (blocks.length === 0) {
    const none = { statistic: null, expected: null, standardDeviation: null, z: null, p: null, pExact: null };
    const reason = 'nobody ranked all of these mixes';
    return { order: [...order], orders: 0, ...none, reason, says: `Nothing can be said: ${reason}.` };
  }
  const trend = pageTrend(
    blocks.map(({ places }) => places),
    order.map((_, i) => i),
  );
  const p = trend.pExact ?? trend.p;
  return { order: [...order], orders: blocks.length, ...trend, says: sayRising(p, trend.reason) };
}

function sayRising(p: number | null, reason: string | null): string {
  if (p === null) return `Nothing can be said: ${reason}.`;
  return p < APART
    ? 'Places rise in the expected order.'
    : 'It is not shown that places rise in the expected order.';
}
