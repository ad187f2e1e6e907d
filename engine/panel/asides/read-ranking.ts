import { mixOrder } from '../cups.ts';
import { friedman } from '../ranking/friedman.ts';
import { incompleteRanks, type RankedBlock } from '../ranking/incomplete-ranks.ts';
import type { AsideAnswer, AsideQuestion, RankedMix, RankingReading } from './aside-types.ts';
import { ordersOf } from './orders.ts';

/** Mixes are called different below this. */
const APART = 0.05;

/**
 * Reads rankings: Friedman's test, Kendall's concordance and all pairs where everybody ranked the same cups; where
 * ballots held different cups, the same test for incomplete orders. A taster who ranked the same cups several times
 * counts once, by mean places; so does a mix poured twice in one sitting.
 *
 * @param answers places of this question, 1 = least
 */
export function readRanking({ id }: AsideQuestion, answers: readonly AsideAnswer[]): RankingReading {
  const mixes = [...new Set(answers.map(({ mix }) => mix))].sort(mixOrder);
  const blocks = ordersOf(answers, mixes);
  const base = { id, form: 'ranking' as const, orders: blocks.length, warnings: [] as string[] };
  if (mixes.length < 2 || blocks.length === 0)
    return { ...base, ...nothing(mixes.length < 2 ? 'fewer than two mixes were ranked' : 'nobody ranked') };
  const complete = blocks.every(({ items }) => items.length === mixes.length);
  return complete
    ? { ...base, ...readComplete(blocks, mixes) }
    : { ...base, ...readIncomplete(blocks, mixes) };
}

type Told = Omit<RankingReading, 'id' | 'form' | 'orders' | 'warnings'> & { warnings?: string[] };

function nothing(reason: string): Told {
  return {
    status: 'not-estimable',
    reason,
    mixes: [],
    test: { statistic: null, df: 0, p: null, pExact: null, f: null },
    concordance: null,
    pairs: [],
    says: `Nothing can be said about the order: ${reason}.`,
  };
}

function readComplete(blocks: readonly RankedBlock[], mixes: readonly string[]): Told {
  const found = friedman(blocks.map(({ places }) => places));
  const k = mixes.length;
  const ranked = mixes.map((mix, j): RankedMix => {
    const rankSum = found.rankSums[j]!;
    return { mix, ballots: found.assessors, height: (rankSum / found.assessors - 1) / (k - 1), rankSum };
  });
  const { statistic, df, p, pExact, f, reason } = found;
  return {
    status: reason === null ? 'estimated' : 'not-estimable',
    reason,
    mixes: fromHighest(ranked),
    test: { statistic, df, p, pExact, f },
    concordance: found.concordance,
    pairs: found.pairs.map(({ a, b, ...rest }) => ({ a: mixes[a]!, b: mixes[b]!, ...rest })),
    says: sayOrder(ranked, pExact ?? f?.p ?? p, reason),
  };
}

function readIncomplete(blocks: readonly RankedBlock[], mixes: readonly string[]): Told {
  const { statistic, df, p, heights, reason } = incompleteRanks(blocks, mixes.length);
  const ranked = mixes.flatMap((mix, j): RankedMix[] => {
    const height = heights[j] ?? null;
    const ballots = blocks.filter(({ items }) => items.includes(j)).length;
    return height === null ? [] : [{ mix, ballots, height, rankSum: null }];
  });
  const parted = reason === null && df < mixes.length - 1;
  return {
    status: reason === null ? 'estimated' : 'not-estimable',
    reason,
    mixes: fromHighest(ranked),
    test: { statistic, df, p, pExact: null, f: null },
    concordance: null,
    pairs: [],
    says: sayOrder(ranked, p, reason),
    warnings: [
      'not every ballot ranked the same cups: places are compared within ballots only',
      ...(parted ? ['some cups never met others in a ballot, so their places cannot be compared'] : []),
    ],
  };
}

function fromHighest(mixes: readonly RankedMix[]): RankedMix[] {
  return [...mixes].sort((a, b) => b.height - a.height || mixOrder(a.mix, b.mix));
}

function sayOrder(mixes: readonly RankedMix[], p: number | null, reason: string | null): string {
  if (p === null) return `Nothing can be said about the order: ${reason}.`;
  if (p >= APART) return 'The tasters do not agree on an order; that is not proof that the cups are alike.';
  const order = fromHighest(mixes);
  return `The tasters agree on an order: ${order[0]!.mix} has the most, ${order.at(-1)!.mix} the least.`;
}
