import { EngineError } from '../errors.ts';
import { studentQuantile, studentTwoSided } from '../numeric/student.ts';

/** A mean difference between two scores of the same assessors. */
export interface PairedGap {
  /** Pairs of which both scores are there. */
  pairs: number;
  mean: number | null;
  standardError: number | null;
  /** 95 %, by Student's distribution with pairs - 1 degrees of freedom. */
  interval: readonly [number, number] | null;
  p: number | null;
  reason: string | null;
}

/**
 * The mean of `first - second` over assessors who gave both, with its interval (Student 1908). Fewer than two pairs
 * give no interval; pairs that all differ by the same give one of no width and no p.
 *
 * @param first,second scores in the same order of assessors, null where one is missing
 * @throws EngineError where the two lists differ in length
 */
export function pairedGap(first: readonly (number | null)[], second: readonly (number | null)[]): PairedGap {
  if (first.length !== second.length)
    throw new EngineError(
      'bad-argument',
      'second',
      second.length,
      `${first.length} scores, as many as first`,
    );
  const gaps = first.flatMap((score, k) => {
    const other = second[k] ?? null;
    return score === null || other === null ? [] : [score - other];
  });
  const pairs = gaps.length;
  if (pairs === 0)
    return { pairs, mean: null, standardError: null, interval: null, p: null, reason: 'no pair' };
  const mean = gaps.reduce((sum, gap) => sum + gap, 0) / pairs;
  if (pairs === 1)
    return { pairs, mean, standardError: null, interval: null, p: null, reason: 'one pair has no spread' };
  const squares = gaps.reduce((sum, gap) => sum + (gap - mean) ** 2, 0);
  const standardError = Math.sqrt(squares / (pairs - 1) / pairs);
  const reach = studentQuantile(0.975, pairs - 1) * standardError;
  const p = standardError > 0 ? studentTwoSided(mean / standardError, pairs - 1) : null;
  const reason = p === null ? 'every pair differs by the same' : null;
  return { pairs, mean, standardError, interval: [mean - reach, mean + reach], p, reason };
}
