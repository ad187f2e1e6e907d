import type { CellSummary } from './process-cells.ts';

/** The panel's variances as the process uses them, in squared points of 100 of the scale. */
export interface CellNoise {
  /** Cup noise, assessor by mix included where the two cannot be told apart. */
  residual: number;
  assessorByMix: number;
  /** The same at a ratio that nobody tasted: where it cannot be told from cup noise, a sixth of that. */
  reaction: number;
  assessor: number;
  assessors: number;
}

/** Cup noise to go by where no cup was repeated and no second assessor tasted: 10 points of 100. */
const ASSUMED = 10 ** 2;
/** A cup is never taken to be surer than one point of 100: scores are whole numbers at best. */
const FINEST = 1;
/** Each attribute's variance is drawn toward the mean of all as if that had so many degrees of freedom. */
const DRAWN = 20;
/** Assessor by mix is drawn toward a sixth of the residual as if that came from so many pairs. */
const PAIRS = 12;
const SIXTH = 1 / 6;

/**
 * Variances of each attribute, drawn toward those of all attributes together: tasters are about as noisy on one
 * scale as on another, and few cups tell a variance badly.
 */
export function cellNoises(summaries: readonly CellSummary[], units: readonly number[]): CellNoise[] {
  const inUnits = summaries.map((summary, k) => ({
    residual: summary.residual === null ? null : summary.residual / units[k]! ** 2,
    degrees: summary.degrees,
  }));
  const known = inUnits.filter((s): s is { residual: number; degrees: number } => s.residual !== null);
  const degrees = known.reduce((sum, s) => sum + s.degrees, 0);
  const pooled = degrees > 0 ? known.reduce((sum, s) => sum + s.residual * s.degrees, 0) / degrees : ASSUMED;
  return summaries.map((summary, k) => {
    const { residual } = inUnits[k]!;
    const drawn =
      residual === null ? pooled : (residual * summary.degrees + pooled * DRAWN) / (summary.degrees + DRAWN);
    const total = Math.max(FINEST, drawn);
    const pairs = summary.pairProduct / units[k]! ** 2;
    const shared = (pairs * summary.pairs + SIXTH * total * PAIRS) / (summary.pairs + PAIRS);
    const assessorByMix = summary.pairs > 0 ? Math.min(0.6 * total, Math.max(0, shared)) : 0;
    return {
      residual: total - assessorByMix,
      assessorByMix,
      reaction: summary.pairs > 0 ? assessorByMix : SIXTH * total,
      assessor: summary.assessor / units[k]! ** 2,
      assessors: summary.assessors,
    };
  });
}

/**
 * Covariance of the cells' means about their true averages: cup noise over the cups, reactions to a mix shared by
 * all its cells, and what a session adds to all its cells.
 */
export function cellCovariance(summary: CellSummary, noise: CellNoise, session: number): Float64Array {
  const { cells } = summary;
  const n = cells.length;
  const out = new Float64Array(n * n);
  cells.forEach((a, i) => {
    cells.forEach((b, j) => {
      const own = i === j ? noise.residual / a.cups : 0;
      const reaction = a.mix === b.mix ? noise.assessorByMix / noise.assessors : 0;
      out[i * n + j] = own + reaction + (a.session === b.session ? session : 0);
    });
  });
  return out;
}
