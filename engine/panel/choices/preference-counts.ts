import { EngineError } from '../../errors.ts';
import { betaQuantile, binomialUpper } from '../../numeric/binomial.ts';
import { chiSquareUpper } from '../../numeric/chi-square.ts';
import { logGamma } from '../../numeric/special.ts';

export interface PreferenceCounts {
  total: number;
  /** Share of each mix with its exact 95 % interval (Clopper and Pearson 1934). */
  shares: { count: number; share: number; interval: [number, number] }[];
  /** Are all mixes preferred equally often? Pearson's chi-square; null without answers. */
  statistic: number | null;
  df: number;
  p: number | null;
  /** Over all ways the answers could have fallen, where they are few enough to count. */
  pExact: number | null;
  /** Exact two-sided sign test of each pair among those who chose one of the two. */
  pairs: { a: number; b: number; p: number }[];
}

const MOST_WAYS = 200_000;

/**
 * Counts of first choices among several mixes.
 *
 * @param counts one whole number a mix, at least 2 mixes
 */
export function preferenceCounts(counts: readonly number[]): PreferenceCounts {
  if (counts.length < 2 || !counts.every((c) => Number.isInteger(c) && c >= 0))
    throw new EngineError(
      'bad-argument',
      'counts',
      counts,
      'whole numbers of 0 or more for at least 2 mixes',
    );
  const total = counts.reduce((sum, c) => sum + c, 0);
  const k = counts.length;
  const statistic =
    total === 0 ? null : (k / total) * counts.reduce((sum, c) => sum + (c - total / k) ** 2, 0);
  return {
    total,
    shares: counts.map((count) => ({
      count,
      share: total ? count / total : 0,
      interval: exactInterval(count, total),
    })),
    statistic,
    df: k - 1,
    p: statistic === null ? null : chiSquareUpper(statistic, k - 1),
    pExact: statistic === null ? null : exactP(counts, total),
    pairs: counts.flatMap((ca, a) =>
      counts.slice(a + 1).map((cb, i) => ({ a, b: a + 1 + i, p: signTest(ca, cb) })),
    ),
  };
}

function exactInterval(count: number, total: number): [number, number] {
  return [
    count === 0 ? 0 : betaQuantile(0.025, count, total - count + 1),
    count === total ? 1 : betaQuantile(0.975, count + 1, total - count),
  ];
}

function signTest(a: number, b: number): number {
  return a + b === 0 ? 1 : Math.min(1, 2 * binomialUpper(Math.max(a, b), a + b, 0.5));
}

/** Chance under equal preference of counts at least as uneven (in sum of squares); null where too many to count. */
function exactP(counts: readonly number[], total: number): number | null {
  const k = counts.length;
  const ways = Math.exp(logGamma(total + k) - logGamma(k) - logGamma(total + 1));
  if (ways > MOST_WAYS) return null;
  const seen = counts.reduce((sum, c) => sum + c * c, 0);
  let p = 0;
  const visit = (place: number, left: number, square: number, logWeight: number) => {
    if (place === k - 1) {
      if (square + left * left >= seen) p += Math.exp(logWeight - logGamma(left + 1));
      return;
    }
    for (let c = 0; c <= left; c++) visit(place + 1, left - c, square + c * c, logWeight - logGamma(c + 1));
  };
  visit(0, total, 0, logGamma(total + 1) - total * Math.log(k));
  return Math.min(1, p);
}
