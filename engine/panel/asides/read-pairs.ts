import { bilinear } from '../../numeric/dense.ts';
import { studentizedRangeUpper } from '../../numeric/studentized-range.ts';
import { type Contest, pairedStrength, strengthDifference } from '../choices/paired-strength.ts';
import { mixOrder } from '../cups.ts';

/** How often each of two mixes was chosen over the other. */
export interface PairCount {
  first: string;
  second: string;
  firstChosen: number;
  secondChosen: number;
  neither: number;
}

export interface PairsReading {
  status: 'estimated' | 'not-estimable';
  reason: string | null;
  /** Comparisons in all. */
  comparisons: number;
  /** From the strongest down: log odds of being chosen, above the middle of all mixes. */
  mixes: { mix: string; strength: number; standardError: number }[];
  /** Every two mixes: difference of log odds, first minus second; `pAllPairs` allows for all pairs (Tukey, Kramer). */
  differences: {
    a: string;
    b: string;
    difference: number;
    standardError: number;
    p: number | null;
    pAllPairs: number | null;
  }[];
  /** Does one strength a mix explain all pairs? Null where every pair has a strength to spare. */
  lackOfFit: { deviance: number | null; df: number; p: number | null };
  says: string;
}

const APART = 0.05;

/** Strengths from paired comparisons (Bradley and Terry; beside `pairedStrength`), about their own middle. */
export function readPairs(counts: readonly PairCount[]): PairsReading {
  const mixes = [...new Set(counts.flatMap(({ first, second }) => [first, second]))].sort(mixOrder);
  const place = new Map(mixes.map((mix, i) => [mix, i]));
  const contests = counts.map(
    ({ first, second, firstChosen, secondChosen, neither }): Contest => ({
      a: place.get(first)!,
      b: place.get(second)!,
      winsA: firstChosen,
      winsB: secondChosen,
      ties: neither,
    }),
  );
  const comparisons = contests.reduce((sum, { winsA, winsB, ties = 0 }) => sum + winsA + winsB + ties, 0);
  const fit = pairedStrength(merged(contests), mixes.length);
  const lackOfFit = { deviance: fit.deviance, df: Math.max(0, fit.df), p: fit.p };
  if (!fit.estimates)
    return {
      status: fit.status,
      reason: fit.reason,
      comparisons,
      mixes: [],
      differences: [],
      lackOfFit,
      says: `Nothing can be said about strengths: ${fit.reason}.`,
    };
  const k = mixes.length;
  const middle = fit.estimates.reduce((sum, v) => sum + v, 0) / k;
  const strengths = mixes.map((mix, m) => {
    const contrast = mixes.map((_, i) => Number(i === m) - 1 / k);
    const variance = bilinear(contrast, fit.covariance!, contrast);
    return { mix, strength: fit.estimates![m]! - middle, standardError: Math.sqrt(Math.max(0, variance)) };
  });
  const differences = mixes.flatMap((a, i) =>
    mixes.slice(i + 1).map((b, j) => {
      const { difference, standardError, p } = strengthDifference(fit, i, i + 1 + j);
      const z = standardError! > 0 ? Math.abs(difference!) / standardError! : null;
      const pAllPairs =
        z === null ? null : studentizedRangeUpper(z * Math.SQRT2, k, Number.POSITIVE_INFINITY);
      return { a, b, difference: difference!, standardError: standardError!, p, pAllPairs };
    }),
  );
  const apart = differences.filter(({ pAllPairs }) => pAllPairs !== null && pAllPairs < APART).length;
  return {
    status: 'estimated',
    reason: null,
    comparisons,
    mixes: strengths.sort((a, b) => b.strength - a.strength || mixOrder(a.mix, b.mix)),
    differences,
    lackOfFit,
    says:
      apart > 0
        ? `The choices tell ${apart} of ${differences.length} pairs apart.`
        : 'The choices tell no two mixes apart; that is not proof that they are alike.',
  };
}

/** Comparisons of the same two mixes count as one contest, so that lack of fit has its degrees of freedom. */
function merged(contests: readonly Contest[]): Contest[] {
  const found = new Map<string, Required<Contest>>();
  for (const { a, b, winsA, winsB, ties = 0 } of contests) {
    const [low, high] = [Math.min(a, b), Math.max(a, b)];
    const key = `${low} ${high}`;
    const one = found.get(key) ?? { a: low, b: high, winsA: 0, winsB: 0, ties: 0 };
    one.winsA += a === low ? winsA : winsB;
    one.winsB += a === low ? winsB : winsA;
    one.ties += ties;
    found.set(key, one);
  }
  return [...found.values()];
}
