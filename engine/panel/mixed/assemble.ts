import { covarianceOfColumns, solveUpper } from '../../numeric/orthogonal.ts';
import type { RatioMinimum } from './best-minimum.ts';
import { criterionOf } from './criterion.ts';
import { fixedBlock } from './fixed-block.ts';
import type { PreparedMixed } from './prepare.ts';
import type { FitStatus, MixedFit } from './types.ts';
import type { Workings } from './workings.ts';

/** y = Xβ + r with r orthogonal to X. */
export interface Cleared {
  beta: Float64Array;
  r: Float64Array;
}

const REASONS: Record<RatioMinimum['status'], { status: FitStatus; reason: string | null }> = {
  converged: { status: 'estimated', reason: null },
  'at-limit': {
    status: 'perfect-fit',
    reason: 'fixed part and random effects together reproduce the scores; nothing is left for the residual',
  },
  stalled: { status: 'not-converged', reason: 'the likelihood could not be brought to its highest point' },
};

/** Makes the fit from the optimum of the variance ratios. */
export function assemble(
  prepared: PreparedMixed,
  y: Float64Array,
  cleared: Cleared,
  found: RatioMinimum,
): MixedFit {
  const w = found.expansion.workings;
  const tau = found.position;
  const shift = solveUpper(prepared.orthogonal.r, w.coefficients.subarray(prepared.structure.globals));
  const effects = effectsOf(prepared, w);
  const residuals = residualsOf(prepared, cleared, w, effects);
  const square = penalisedSquare(prepared, residuals, effects, tau);
  const { status, reason } = REASONS[found.status];
  const estimated = status === 'estimated';
  const sigma2 = square / (prepared.n - prepared.p);
  return {
    ...frame(prepared, y),
    status,
    reason,
    beta: cleared.beta.map((v, j) => v + shift[j]!),
    covariance:
      status === 'perfect-fit'
        ? null
        : covarianceOfColumns(prepared.orthogonal.r, fixedBlock(w, prepared.p), sigma2),
    sigma2: status === 'perfect-fit' ? 0 : sigma2,
    variances: variancesOf(prepared, tau, status === 'perfect-fit' ? null : sigma2),
    zero: estimated ? prepared.structure.factors.filter((_, k) => tau[k] === 0).map((f) => f.name) : [],
    logRestrictedLikelihood: estimated ? -criterionOf(prepared, w.reduction, square) / 2 : null,
    evaluations: found.evaluations,
    gradientNorm: projectedGradient(found),
    warnings: warningsOf(prepared, reason),
    effects,
    fitted: y.map((v, i) => v - residuals[i]!),
    residuals,
    workings: status === 'perfect-fit' ? null : w,
  };
}

/** A fit that leaves no residual variance to estimate: as many columns as rows, or scores reproduced exactly. */
export function withoutResidual(
  prepared: PreparedMixed,
  y: Float64Array,
  { beta, r }: Cleared,
  status: 'saturated' | 'perfect-fit',
  reason: string,
): MixedFit {
  const none = status === 'saturated' ? null : 0;
  return {
    ...frame(prepared, y),
    status,
    reason,
    beta,
    covariance: null,
    sigma2: none,
    variances: Object.fromEntries(prepared.random.map((f) => [f.name, none])),
    zero: [],
    logRestrictedLikelihood: null,
    evaluations: 0,
    gradientNorm: 0,
    warnings: warningsOf(prepared, reason),
    effects: Object.fromEntries(prepared.random.map((f) => [f.name, new Float64Array(f.count)])),
    fitted: y.map((v, i) => v - r[i]!),
    residuals: r,
    workings: null,
  };
}

function frame(prepared: PreparedMixed, y: Float64Array) {
  const unidentified = prepared.unidentified.map((u) => u.name);
  return { n: prepared.n, p: prepared.p, names: prepared.names, unidentified, y, prepared };
}

function warningsOf(prepared: PreparedMixed, reason: string | null): string[] {
  const left = prepared.unidentified.map((u) => `the variance of ${u.name} cannot be estimated: ${u.reason}`);
  return reason ? [reason, ...left] : left;
}

/** Conditional modes û_k = τ_k Z_k'P r; zero for a factor that was set aside. */
function effectsOf(prepared: PreparedMixed, w: Workings): Record<string, Float64Array> {
  const { factors, place } = prepared.structure;
  return Object.fromEntries(
    prepared.random.map((f) => {
      const k = factors.indexOf(f);
      const modes = new Float64Array(f.count);
      if (k >= 0)
        modes.forEach((_, level) => {
          modes[level] = w.reduction.tau[k]! * w.scores[place[k]![level]!]!;
        });
      return [f.name, modes];
    }),
  );
}

function residualsOf(
  prepared: PreparedMixed,
  cleared: Cleared,
  w: Workings,
  effects: Record<string, Float64Array>,
): Float64Array {
  const { q, p } = prepared.orthogonal;
  const out = cleared.r.slice();
  for (let i = 0; i < out.length; i++)
    for (let j = 0; j < p; j++) out[i]! -= q[i * p + j]! * w.coefficients[prepared.structure.globals + j]!;
  for (const f of prepared.random)
    for (let i = 0; i < out.length; i++) out[i]! -= effects[f.name]![f.levels[i]!]!;
  return out;
}

/** r'P r as a sum of squares, ‖y - Xβ - Zu‖² + Σ u²/τ, which no cancellation can spoil. */
function penalisedSquare(
  prepared: PreparedMixed,
  residuals: Float64Array,
  effects: Record<string, Float64Array>,
  tau: Float64Array,
): number {
  let sum = 0;
  for (const v of residuals) sum += v * v;
  prepared.structure.factors.forEach((f, k) => {
    if (tau[k]! > 0) for (const u of effects[f.name]!) sum += (u * u) / tau[k]!;
  });
  return sum;
}

function variancesOf(prepared: PreparedMixed, tau: Float64Array, sigma2: number | null) {
  const { factors } = prepared.structure;
  return Object.fromEntries(
    prepared.random.map((f): [string, number | null] => {
      const k = factors.indexOf(f);
      return [f.name, k < 0 || sigma2 === null ? null : tau[k]! * sigma2];
    }),
  );
}

function projectedGradient({ position, expansion }: RatioMinimum): number {
  let most = 0;
  position.forEach((v, k) => {
    const g = expansion.gradient[k]!;
    most = Math.max(most, (v > 0 ? Math.abs(g) : Math.max(0, -g)) * (1 + v));
  });
  return most;
}
