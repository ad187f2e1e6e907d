import type { Friedman, RankPair } from '../ranking/friedman.ts';

/** A question beside the scales. `ranking`: cups put in order, 1 = least. `describe`: words for each cup. */
export interface AsideQuestion {
  id: string;
  form: 'ranking' | 'describe';
  /** `describe`: words that were offered; what else was written is counted too. */
  words?: readonly string[] | undefined;
}

/** What one taster answered about one cup: a place, or words parted by commas. */
export interface AsideAnswer {
  question: string;
  assessor: string;
  session: string | null;
  replicate: string | null;
  mix: string;
  value: number | string;
}

export interface RankedMix {
  mix: string;
  /** Ballots that ranked it. */
  ballots: number;
  /** Mean place on 0 (always last) to 1 (always first), whatever the number of cups. */
  height: number;
  /** Sum of places; null where ballots ranked different cups. */
  rankSum: number | null;
}

/** What rankings of cups say. */
export interface RankingReading {
  id: string;
  form: 'ranking';
  status: 'estimated' | 'not-estimable';
  reason: string | null;
  /** Orders that were read: one a taster where all ranked the same cups, else one a ballot. */
  orders: number;
  /** From the highest place down. */
  mixes: RankedMix[];
  /** Do the mixes differ in rank? Chi-square with its exact form where counted, and the sharper F where there is one. */
  test: Pick<Friedman, 'statistic' | 'df' | 'p' | 'pExact' | 'f'>;
  /** Kendall's concordance, 0 to 1; null where ballots ranked different cups. */
  concordance: number | null;
  /** Differences of rank sums, a minus b; empty where ballots ranked different cups. */
  pairs: (Omit<RankPair, 'a' | 'b'> & { a: string; b: string })[];
  says: string;
  warnings: string[];
}

export interface CheckedWord {
  word: string;
  /** By mix, in the order of `mixes`: how many tasters used it. */
  counts: number[];
  /** Cochran's Q over tasters who had every mix; null with a reason where it cannot be had. */
  q: number | null;
  p: number | null;
  reason: string | null;
}

/** What words for cups say. */
export interface WordsReading {
  id: string;
  form: 'describe';
  mixes: string[];
  /** Tasters who had every mix: the only ones whom the test counts. */
  complete: number;
  /** Words that were offered in their order, then others by how often they were written. */
  words: CheckedWord[];
  says: string;
  warnings: string[];
}

export type AsideReading = RankingReading | WordsReading;
