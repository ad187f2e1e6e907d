import type { Line, Volatility } from './material.ts';

/** One pouring: a line of the formula, or the stock that stands in for it. */
export interface Pouring {
  line: Line;
  grams: number;
  /** Percent by mass of the line's material in what is poured. */
  strength: number;
  volatility: Volatility;
}
