export type { WeighedMix } from '../region/weighed-mix.ts';

/** One cup as scored by one assessor; `scores` follow the order of the attributes, null where missing. */
export interface Serving {
  mix: string;
  assessor: string;
  session: string | null;
  replicate: string | null;
  /** 1 = first cup of the sitting. */
  position: number | null;
  /** How long its bottle had stood when it was tasted; left out or null where that is not known. */
  hours?: number | null | undefined;
  scores: readonly (number | null)[];
}

/** Where an attribute should end up. `reference` = where the reference drink is scored by the same panel. */
export type Target =
  | { kind: 'value'; value: number }
  | { kind: 'range'; low: number; high: number }
  | { kind: 'most' }
  | { kind: 'least' }
  | { kind: 'reference' };

/** One scale on the ballot. `target` null = scored but not aimed at; `tolerance` in scale units. */
export interface Attribute {
  id: string;
  scale: readonly [number, number] | null;
  target: Target | null;
  tolerance: number;
  weight: number;
  /** Questions whose answers say more than a number does: words in order, liking, or just about right. */
  answered?: 'steps' | 'liking' | 'right' | undefined;
}

/** Names with a meaning of their own in a list of scores. */
export const REFERENCE = 'reference';
export const WARMUP = 'warmup';
