import { type PreferenceCounts, preferenceCounts } from '../choices/preference-counts.ts';

export interface PicksReading extends Omit<PreferenceCounts, 'shares' | 'pairs'> {
  /** In the order given: how many picked it, as a share with its exact 95 % interval. */
  mixes: { mix: string; count: number; share: number; interval: [number, number] }[];
  pairs: { a: string; b: string; p: number }[];
  says: string;
}

const APART = 0.05;

/** First choices among several mixes; beside `preferenceCounts`. */
export function readPicks(counts: readonly { mix: string; count: number }[]): PicksReading {
  const { shares, pairs, ...found } = preferenceCounts(counts.map(({ count }) => count));
  const p = found.pExact ?? found.p;
  return {
    ...found,
    mixes: shares.map((share, i) => ({ mix: counts[i]!.mix, ...share })),
    pairs: pairs.map(({ a, b, p: pair }) => ({ a: counts[a]!.mix, b: counts[b]!.mix, p: pair })),
    says: sayPicks(counts, p),
  };
}

function sayPicks(counts: readonly { mix: string; count: number }[], p: number | null): string {
  if (p === null) return 'Nobody picked any: nothing can be said.';
  if (p >= APART) return 'The picks could be even; that is not proof that all are liked alike.';
  const best = counts.reduce((a, b) => (b.count > a.count ? b : a));
  return `The picks are not even: ${best.mix} was picked most often.`;
}
