import { EigenvalueDecomposition, Matrix } from 'ml-matrix';
import { EngineError } from '../../errors.ts';
import { chiSquareUpper } from '../../numeric/chi-square.ts';
import { midranks, rankSpread } from './midranks.ts';

/** One order of some of the items: which, and their scores or places, larger is more. */
export interface RankedBlock {
  items: readonly number[];
  places: readonly number[];
}

export interface IncompleteRanks {
  /** Null, with p, where no block tells any two items apart. */
  statistic: number | null;
  df: number;
  p: number | null;
  /** Mean of place/(cups of the block + 1) of each item; null for an item that no block holds. */
  heights: (number | null)[];
  reason: string | null;
}

/** Directions in which the orders cannot differ, relative to the largest. */
const FLAT = 1e-9;

/**
 * Do items differ in rank where blocks hold different items? With a_j = Σ_i w_i (r_ij - (k_i+1)/2), w_i = 1/(k_i+1) and
 * V its covariance when every block's own ranks (ties and all) are dealt out at random, the statistic is a' V⁻ a on
 * rank V degrees of freedom. Complete blocks make it Friedman's test with ties, balanced incomplete ones Durbin's.
 * Sources: Prentice 1979, Biometrika 66, 167-170; Durbin 1951, Br. J. Psychol. 4, 85-90.
 *
 * @param blocks at least one; items are numbers in 0..count-1, each once in a block
 */
export function incompleteRanks(blocks: readonly RankedBlock[], count: number): IncompleteRanks {
  refuseBad(blocks, count);
  const a = new Float64Array(count);
  const v = Matrix.zeros(count, count);
  const heights = new Float64Array(count);
  const held = new Int32Array(count);
  for (const { items, places } of blocks) {
    const k = items.length;
    const ranks = midranks(places);
    const weight = 1 / (k + 1);
    const variance = k > 1 ? (weight ** 2 * rankSpread(ranks)) / (k - 1) : 0;
    items.forEach((item, i) => {
      a[item]! += weight * (ranks[i]! - (k + 1) / 2);
      heights[item]! += weight * ranks[i]!;
      held[item]! += 1;
      for (const other of items)
        v.set(item, other, v.get(item, other) + variance * (Number(item === other) - 1 / k));
    });
  }
  const means = Array.from(held, (n, j) => (n === 0 ? null : heights[j]! / n));
  const { realEigenvalues, eigenvectorMatrix } = new EigenvalueDecomposition(v, { assumeSymmetric: true });
  const largest = Math.max(...realEigenvalues);
  if (!(largest > 0))
    return { statistic: null, df: 0, p: null, heights: means, reason: 'no order tells any two cups apart' };
  let [statistic, df] = [0, 0];
  realEigenvalues.forEach((value, e) => {
    if (value <= FLAT * largest) return;
    const along = a.reduce((sum, x, j) => sum + x * eigenvectorMatrix.get(j, e), 0);
    statistic += along ** 2 / value;
    df++;
  });
  return { statistic, df, p: chiSquareUpper(statistic, df), heights: means, reason: null };
}

function refuseBad(blocks: readonly RankedBlock[], count: number): void {
  const bad = blocks.findIndex(
    ({ items, places }) =>
      items.length !== places.length ||
      new Set(items).size !== items.length ||
      !items.every((item) => Number.isInteger(item) && item >= 0 && item < count) ||
      !places.every(Number.isFinite),
  );
  if (blocks.length === 0 || bad >= 0)
    throw new EngineError(
      'bad-argument',
      bad >= 0 ? `blocks[${bad}]` : 'blocks',
      bad >= 0 ? blocks[bad] : blocks.length,
      `at least one block, each of different items in 0..${count - 1} with a finite place each`,
    );
}
