import { EngineError } from '../../errors.ts';
import { normalQuantile } from '../../numeric/normal.ts';
import { studentTwoSided } from '../../numeric/student.ts';

export interface LikingAgreement {
  mixes: number;
  /** Correlation over mixes; null where either does not vary or fewer than three mixes have both. */
  correlation: number | null;
  /** 95 % interval by Fisher's transformation; null for fewer than four mixes or a correlation of ±1. */
  interval: [number, number] | null;
  /** Two-sided p that the correlation is zero. */
  p: number | null;
  /** Liking gained for one unit of the attribute. */
  slope: number | null;
  reason: string | null;
}

/**
 * Does liking go with an attribute over the mixes? Correlation of the mixes' mean likings with their mean scores.
 * Source: Fisher 1915 and 1921 for the interval. It says that they go together, not that one makes the other.
 *
 * @param liking @param attribute one mean a mix, null where missing
 */
export function likingAgreement(
  liking: readonly (number | null)[],
  attribute: readonly (number | null)[],
): LikingAgreement {
  if (liking.length !== attribute.length)
    throw new EngineError('bad-argument', 'attribute', attribute.length, `${liking.length} means`);
  const both = liking.flatMap((y, i) =>
    y === null || attribute[i] == null ? [] : [[attribute[i]!, y] as const],
  );
  const n = both.length;
  const none = { mixes: n, correlation: null, interval: null, p: null, slope: null };
  if (n < 3) return { ...none, reason: 'fewer than three mixes have both' };
  const [mx, my] = [both.reduce((s, b) => s + b[0], 0) / n, both.reduce((s, b) => s + b[1], 0) / n];
  const xx = both.reduce((s, b) => s + (b[0] - mx) ** 2, 0);
  const yy = both.reduce((s, b) => s + (b[1] - my) ** 2, 0);
  const xy = both.reduce((s, b) => s + (b[0] - mx) * (b[1] - my), 0);
  if (!(xx > (1e-12 * mx) ** 2 * n) || !(yy > (1e-12 * my) ** 2 * n))
    return { ...none, reason: 'liking or attribute is the same for all mixes' };
  const correlation = Math.max(-1, Math.min(1, xy / Math.sqrt(xx * yy)));
  const t = correlation * Math.sqrt((n - 2) / Math.max(Number.MIN_VALUE, 1 - correlation ** 2));
  const exact = Math.abs(correlation) === 1;
  return {
    mixes: n,
    correlation,
    interval: n < 4 || exact ? null : fisherInterval(correlation, n),
    p: exact ? 0 : studentTwoSided(t, n - 2),
    slope: xy / xx,
    reason: null,
  };
}

function fisherInterval(r: number, n: number): [number, number] {
  const half = normalQuantile(0.975) / Math.sqrt(n - 3);
  return [Math.tanh(Math.atanh(r) - half), Math.tanh(Math.atanh(r) + half)];
}
