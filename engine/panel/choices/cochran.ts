import { EngineError } from '../../errors.ts';
import { binomialUpper } from '../../numeric/binomial.ts';
import { chiSquareUpper } from '../../numeric/chi-square.ts';

export interface CochranQ {
  /** How many checked the word, for each mix. */
  counts: number[];
  /** Tasters who did not check all mixes alike: the only ones who tell. */
  telling: number;
  /** Null, with p, where no taster tells mixes apart. */
  q: number | null;
  df: number;
  p: number | null;
  /** McNemar's exact two-sided p for each pair of mixes; 1 where nobody tells them apart. */
  pairs: { a: number; b: number; onlyA: number; onlyB: number; p: number }[];
  reason: string | null;
}

/**
 * Is a word checked equally often for all mixes? Cochran's Q for check-all-that-apply answers:
 * Q = (k-1)(k Σ C_j² - N²) / (k N - Σ R_i²), with C column and R row sums; on k-1 degrees of freedom.
 * Sources: Cochran 1950, Biometrika 37, 256-266; McNemar 1947, Psychometrika 12, 153-157 (exact by the binomial).
 *
 * @param checked tasters × mixes of 0 and 1, complete
 */
export function cochranQ(checked: readonly (readonly number[])[]): CochranQ {
  const k = checked[0]?.length ?? 0;
  if (k < 2 || checked.some((row) => row.length !== k || row.some((v) => v !== 0 && v !== 1)))
    throw new EngineError('bad-argument', 'checked', checked, 'a complete table of 0 and 1, tasters × mixes');
  const counts = checked[0]!.map((_, j) => checked.reduce((sum, row) => sum + row[j]!, 0));
  const rows = checked.map((row) => row.reduce((sum, v) => sum + v, 0));
  const total = rows.reduce((sum, r) => sum + r, 0);
  const below = k * total - rows.reduce((sum, r) => sum + r * r, 0);
  const base = {
    counts,
    telling: rows.filter((r) => r > 0 && r < k).length,
    df: k - 1,
    pairs: pairsOf(checked, k),
  };
  if (below === 0) return { ...base, q: null, p: null, reason: 'every taster checked all mixes alike' };
  const q = ((k - 1) * (k * counts.reduce((sum, c) => sum + c * c, 0) - total * total)) / below;
  return { ...base, q, p: chiSquareUpper(q, k - 1), reason: null };
}

function pairsOf(checked: readonly (readonly number[])[], k: number): CochranQ['pairs'] {
  const pairs: CochranQ['pairs'] = [];
  for (let a = 0; a < k; a++)
    for (let b = a + 1; b < k; b++) {
      const onlyA = checked.filter((row) => row[a]! > row[b]!).length;
      const onlyB = checked.filter((row) => row[a]! < row[b]!).length;
      const n = onlyA + onlyB;
      const p = n === 0 ? 1 : Math.min(1, 2 * binomialUpper(Math.max(onlyA, onlyB), n, 0.5));
      pairs.push({ a, b, onlyA, onlyB, p });
    }
  return pairs;
}
