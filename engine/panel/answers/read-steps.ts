import { chiSquareUpper } from '../../numeric/chi-square.ts';
import { bilinear } from '../../numeric/dense.ts';
import type { Cups } from '../cups.ts';
import { categoryShares } from '../ordinal/category-shares.ts';
import { fitCumulativeLink, type OrdinalFit } from '../ordinal/cumulative-link.ts';

export interface StepMix {
  mix: string;
  /** How often each step was chosen, in the order of `steps`. */
  counts: number[];
  /** Log odds of a higher step, above the middle of all mixes; null with the rest where nothing was estimated. */
  place: number | null;
  standardError: number | null;
  /** What share of tasters like these would choose each step, in the order of `steps`. */
  shares: number[] | null;
}

/** Answers on a scale of steps, read as steps: only their order counts, not their distance. */
export interface StepsReading {
  status: 'estimated' | 'not-estimable';
  reason: string | null;
  /** All whole numbers from the lowest to the highest answer. */
  steps: number[];
  /** Likelihood ratio test that all mixes are alike; null where it cannot be had. */
  mixTest: { chiSquare: number | null; df: number | null; p: number | null };
  /** Variance between tasters on the same scale; null for one taster. */
  assessorVariance: number | null;
  mixes: StepMix[];
}

/** With more mixes the model takes longer than anybody waits. */
const MOST_MIXES = 40;

/**
 * A cumulative logit model of the steps with mixes and random tasters: P(y ≤ j) = 1/(1 + exp(place_m + u_a - θ_j)). The
 * test compares it with the same model without mixes, 2 Δ log-likelihood as chi-square on mixes - 1 degrees. Sessions
 * and repeats are not told apart. Source: McCullagh 1980; beside `fitCumulativeLink`.
 */
export function readSteps(cups: Cups): StepsReading {
  const { y, mixes, mixOf } = cups;
  const low = y.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
  const high = y.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY);
  const steps = y.length === 0 ? [] : Array.from({ length: high - low + 1 }, (_, j) => low + j);
  const counts = mixes.map((_, m) =>
    steps.map((step) => y.reduce((n, v, i) => n + Number(v === step && mixOf[i] === m), 0)),
  );
  const without = (reason: string): StepsReading => ({
    status: 'not-estimable',
    reason,
    steps,
    mixTest: { chiSquare: null, df: null, p: null },
    assessorVariance: null,
    mixes: mixes.map((mix, m) => ({
      mix,
      counts: counts[m]!,
      place: null,
      standardError: null,
      shares: null,
    })),
  });
  if (y.length === 0) return without('no score was given');
  if (!y.every(Number.isInteger)) return without('the scores are not whole steps');
  if (mixes.length < 2) return without('only one mix was scored: there is nothing to compare');
  if (mixes.length > MOST_MIXES) return without(`more than ${MOST_MIXES} mixes`);
  const full = modelOf(cups, mixes.length - 1);
  if (full.status !== 'estimated') return without(full.reason!);
  const none = modelOf(cups, 0);
  const df = mixes.length - 1;
  const chiSquare =
    none.status === 'estimated' ? Math.max(0, 2 * (full.logLikelihood! - none.logLikelihood!)) : null;
  return {
    status: 'estimated',
    reason: null,
    steps,
    mixTest: { chiSquare, df, p: chiSquare === null ? null : chiSquareUpper(chiSquare, df) },
    assessorVariance: full.assessorVariance,
    mixes: mixes.map((mix, m) => ({ mix, counts: counts[m]!, ...placeOf(full, m, steps) })),
  };
}

/** The first mix stands at zero. */
function modelOf({ y, mixOf, mixes, assessors, assessorOf }: Cups, columns: number): OrdinalFit {
  const x = new Float64Array(y.length * columns);
  if (columns > 0)
    mixOf.forEach((m, i) => {
      if (m > 0) x[i * columns + m - 1] = 1;
    });
  return fitCumulativeLink({
    y: Int32Array.from(y),
    x,
    names: mixes.slice(1, 1 + columns),
    ...(assessors.length > 1 ? { assessor: { levels: assessorOf, count: assessors.length } } : {}),
  });
}

function placeOf(full: OrdinalFit, m: number, steps: readonly number[]) {
  const k = full.coefficients.length + 1;
  const estimates = [0, ...full.coefficients.map(({ estimate }) => estimate)];
  const contrast = [
    ...full.thresholds.map(() => 0),
    ...full.coefficients.map((_, j) => Number(j + 1 === m) - 1 / k),
  ];
  const row = full.coefficients.map((_, j) => Number(j + 1 === m));
  const shares = categoryShares(full, row, 'population')!;
  return {
    place: estimates[m]! - estimates.reduce((sum, v) => sum + v, 0) / k,
    standardError: Math.sqrt(Math.max(0, bilinear(contrast, full.covariance!, contrast))),
    shares: steps.map((step) => shares[full.categories.indexOf(step)] ?? 0),
  };
}
