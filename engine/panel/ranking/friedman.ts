import { chiSquareUpper } from '../../numeric/chi-square.ts';
import { fisherUpper } from '../../numeric/fisher.ts';
import { normalQuantile, normalUpper } from '../../numeric/normal.ts';
import { studentizedRangeUpper } from '../../numeric/studentized-range.ts';
import { exactFriedman } from './exact-friedman.ts';
import { rankSpread, rankTable } from './midranks.ts';

export interface RankPair {
  /** Columns of the table. */
  a: number;
  b: number;
  /** Rank sum of a minus rank sum of b. */
  difference: number;
  /** Two-sided p of this pair alone. */
  p: number;
  /** p that allows for all pairs having been looked at. */
  pAllPairs: number;
}

export interface Friedman {
  assessors: number;
  mixes: number;
  rankSums: number[];
  /** Null, with the p's, where every assessor ranked all mixes alike. */
  statistic: number | null;
  df: number;
  /** From the chi-square distribution. */
  p: number | null;
  /** From all orders that the assessors could have given, where they are few enough to count. */
  pExact: number | null;
  /** The sharper form for few assessors; null where all assessors agree wholly. */
  f: { f: number; numDf: number; denDf: number; p: number } | null;
  /** Kendall's coefficient of concordance, 0 to 1. */
  concordance: number | null;
  /** Smallest difference of two rank sums that differs at 0.05 (two-sided, each pair alone). */
  leastDifference: number | null;
  pairs: RankPair[];
  reason: string | null;
}

/**
 * Do the mixes differ in rank? Friedman's test with ties, its exact distribution for small panels, Iman and
 * Davenport's F, Kendall's concordance and all pairs.
 *
 * statistic = (k-1) Σ (R_j - n(k+1)/2)² / Σ (r_ij - (k+1)/2)². Sources: Friedman 1937, J. Am. Stat. Assoc. 32, 675-701;
 * Iman and Davenport 1980, Commun. Stat. A9, 571-595; pairs after Nemenyi 1963 and, alone, ISO 8587.
 *
 * @param scores assessors × mixes, complete; scores or ranks, larger is more
 * @param work most steps spent on the exact distribution
 */
export function friedman(scores: readonly (readonly number[])[], work = 4e5): Friedman {
  const ranks = rankTable(scores);
  const n = ranks.length;
  const k = ranks[0]!.length;
  const rankSums = ranks[0]!.map((_, j) => ranks.reduce((sum, row) => sum + row[j]!, 0));
  const spread = ranks.reduce((sum, row) => sum + rankSpread(row), 0);
  const base = { assessors: n, mixes: k, rankSums, df: k - 1 };
  if (spread === 0)
    return {
      ...base,
      statistic: null,
      p: null,
      pExact: null,
      f: null,
      concordance: null,
      leastDifference: null,
      pairs: [],
      reason: 'every assessor ranked all mixes alike',
    };
  const between = rankSums.reduce((sum, r) => sum + (r - (n * (k + 1)) / 2) ** 2, 0);
  const statistic = ((k - 1) * between) / spread;
  const deviation = Math.sqrt((2 * spread) / (k - 1));
  return {
    ...base,
    statistic,
    p: chiSquareUpper(statistic, k - 1),
    pExact: exactFriedman(ranks, work),
    f: imanDavenport(statistic, n, k),
    concordance: between / (n * spread),
    leastDifference: normalQuantile(0.975) * deviation,
    pairs: allPairs(rankSums, deviation),
    reason: null,
  };
}

function imanDavenport(statistic: number, n: number, k: number): Friedman['f'] {
  const rest = n * (k - 1) - statistic;
  if (n < 2 || !(rest > 1e-12 * statistic)) return null;
  const f = ((n - 1) * statistic) / rest;
  const [numDf, denDf] = [k - 1, (n - 1) * (k - 1)];
  return { f, numDf, denDf, p: fisherUpper(f, numDf, denDf) };
}

function allPairs(rankSums: readonly number[], deviation: number): RankPair[] {
  return rankSums.flatMap((ra, a) =>
    rankSums.slice(a + 1).map((rb, i) => {
      const difference = ra - rb;
      const z = Math.abs(difference) / deviation;
      const pAllPairs = studentizedRangeUpper(z * Math.SQRT2, rankSums.length, Number.POSITIVE_INFINITY);
      return { a, b: a + 1 + i, difference, p: 2 * normalUpper(z), pAllPairs };
    }),
  );
}
