import { EngineError } from '../../errors.ts';
import { inverseOfPositive, symmetrise } from '../../numeric/dense.ts';
import { normalQuantile, normalUpper } from '../../numeric/normal.ts';
import { gaussHermite, type Quadrature } from './gauss-hermite.ts';
import { LINKS, type LinkName } from './links.ts';
import { type OrdinalData, type OrdinalValue, ordinalLikelihood } from './ordinal-likelihood.ts';

/** Ratings on a category scale. `x` is n × p without a constant, row by row. */
export interface OrdinalProblem {
  /** Category numbers in rising order; any whole numbers. */
  y: Int32Array;
  x: Float64Array;
  names: readonly string[];
  /** Whose rating each row is; absent: no random effect. */
  assessor?: { levels: Int32Array; count: number };
  link?: LinkName;
}

export interface OrdinalFit {
  status: 'estimated' | 'not-estimable';
  reason: string | null;
  /** The categories that were used, ascending; `thresholds` stand between them. */
  categories: number[];
  thresholds: number[];
  /** p is two-sided, from the normal distribution. */
  coefficients: { name: string; estimate: number; standardError: number; p: number }[];
  /** Covariance of thresholds, then coefficients, row by row. */
  covariance: Float64Array | null;
  /** Variance between assessors; null without the random effect, 0 where estimated as zero. */
  assessorVariance: number | null;
  /** Most likely effect of each assessor, on the scale of the thresholds. */
  effects: Float64Array;
  logLikelihood: number | null;
  link: LinkName;
}

const NODES = 15;
const MOST_STEPS = 80;
/** Coefficients that move a rating by more than this many units of the link have run off. */
const RUN_OFF = 25;

/**
 * Cumulative link model of category ratings with random assessors: P(y ≤ j) = F(θ_j - x'β - u_a), u_a ~ N(0, τ²), by
 * maximum likelihood with adaptive Gauss-Hermite quadrature on 15 nodes. Sources: McCullagh 1980, J. R. Stat. Soc. B
 * 42, 109-142; Christensen, package ordinal, for the model with random effects.
 *
 * @returns `not-estimable` with a reason for fewer than two categories in use, dependent columns, or coefficients that
 *   run off because a column splits the categories wholly
 */
export function fitCumulativeLink(problem: OrdinalProblem): OrdinalFit {
  const { data, categories } = dataOf(problem);
  const link = problem.link ?? 'logit';
  const p = problem.names.length;
  const base = { categories, link, effects: new Float64Array(problem.assessor?.count ?? 0) };
  if (categories.length < 2) return failed(base, 'all ratings fall into one category');
  const plain = climb(data, startOf(data), null);
  if (!plain)
    return failed(
      base,
      'the ratings cannot tell the coefficients: dependent columns or wholly split categories',
    );
  if (!problem.assessor) return finished(problem, base, data, plain, null);
  const quadrature = gaussHermite(NODES);
  const start = Float64Array.of(...plain.parameters.map((v) => 1.3 * v), 1);
  const mixed = climb(data, start, quadrature);
  const sigma = mixed ? Math.abs(mixed.parameters[categories.length - 1 + p]!) : 0;
  if (mixed && sigma > 1e-3 && mixed.at.value > plain.at.value)
    return finished(problem, base, data, mixed, sigma * sigma);
  return finished(problem, base, data, plain, 0);
}

type Base = Pick<OrdinalFit, 'categories' | 'link' | 'effects'>;

function failed(base: Base, reason: string): OrdinalFit {
  return {
    ...base,
    status: 'not-estimable',
    reason,
    thresholds: [],
    coefficients: [],
    covariance: null,
    assessorVariance: null,
    logLikelihood: null,
  };
}

function dataOf({ y, x, names, assessor, link = 'logit' }: OrdinalProblem): {
  data: OrdinalData;
  categories: number[];
} {
  const p = names.length;
  if (y.length === 0 || x.length !== y.length * p || !x.every(Number.isFinite))
    throw new EngineError('bad-argument', 'x', x.length, `${y.length} × ${p} finite numbers`);
  if (
    assessor &&
    (assessor.levels.length !== y.length || !assessor.levels.every((l) => l >= 0 && l < assessor.count))
  )
    throw new EngineError('bad-argument', 'assessor.levels', assessor.levels.length, `${y.length} levels`);
  const categories = [...new Set(y)].sort((a, b) => a - b);
  const number = new Map(categories.map((c, j) => [c, j]));
  const rows = Array.from({ length: assessor?.count ?? 1 }, () => [] as number[]);
  y.forEach((_, i) => {
    rows[assessor?.levels[i] ?? 0]!.push(i);
  });
  const groups = rows.map((list) => Int32Array.from(list));
  return {
    data: { y: y.map((c) => number.get(c)!), x, p, categories: categories.length, groups, link: LINKS[link] },
    categories,
  };
}

/** Thresholds at the shares seen, coefficients at zero. */
function startOf({ y, p, categories }: OrdinalData): Float64Array {
  const out = new Float64Array(categories - 1 + p);
  for (let j = 0; j < categories - 1; j++)
    out[j] = 1.7 * normalQuantile(y.filter((c) => c <= j).length / y.length);
  return out;
}

interface Summit {
  parameters: Float64Array;
  at: OrdinalValue;
  covariance: Float64Array;
}

/** Newton's method with second derivatives from differences of the gradient; steps halved until the value rises. */
function climb(data: OrdinalData, start: Float64Array, quadrature: Quadrature | null): Summit | null {
  let parameters = start;
  let at = ordinalLikelihood(data, parameters, quadrature);
  for (let count = 0; at && count < MOST_STEPS; count++) {
    const information = informationAt(data, parameters, quadrature);
    if (!information) return null;
    const covariance = inverseOfPositive(information, parameters.length, 1e-9);
    const move = stepFrom(at.gradient, covariance, information);
    if (!move) return null;
    const rise = move.reduce((sum, v, i) => sum + v * at!.gradient[i]!, 0);
    if (covariance && rise < 1e-14) return runsOff(data, parameters) ? null : { parameters, at, covariance };
    const next = rising(data, parameters, move, at.value, quadrature);
    if (!next)
      return covariance && rise < 1e-8 && !runsOff(data, parameters) ? { parameters, at, covariance } : null;
    ({ parameters, at } = next);
    if (runsOff(data, parameters)) return null;
  }
  return null;
}

/** Minus the second derivatives, by central differences of the gradient. */
function informationAt(
  data: OrdinalData,
  parameters: Float64Array,
  quadrature: Quadrature | null,
): Float64Array | null {
  const size = parameters.length;
  const out = new Float64Array(size * size);
  for (let k = 0; k < size; k++) {
    const h = 1e-5 * Math.max(1, Math.abs(parameters[k]!));
    const up = ordinalLikelihood(
      data,
      parameters.map((v, i) => (i === k ? v + h : v)),
      quadrature,
    );
    const down = ordinalLikelihood(
      data,
      parameters.map((v, i) => (i === k ? v - h : v)),
      quadrature,
    );
    if (!up || !down) return null;
    for (let i = 0; i < size; i++) out[k * size + i] = -(up.gradient[i]! - down.gradient[i]!) / (2 * h);
  }
  return symmetrise(out, size);
}

/** Newton's step, or a step along a damped information where that is not positive definite. */
function stepFrom(
  gradient: Float64Array,
  covariance: Float64Array | null,
  information: Float64Array,
): Float64Array | null {
  const size = gradient.length;
  let inverse = covariance;
  const largest = Math.max(...information.map(Math.abs));
  for (let damp = 1e-3; !inverse && damp < 1e3; damp *= 10)
    inverse = inverseOfPositive(
      information.map((v, at) => (at % (size + 1) === 0 ? v + damp * largest : v)),
      size,
    );
  return (
    inverse && gradient.map((_, i) => gradient.reduce((sum, g, j) => sum + inverse[i * size + j]! * g, 0))
  );
}

function rising(
  data: OrdinalData,
  parameters: Float64Array,
  move: Float64Array,
  value: number,
  quadrature: Quadrature | null,
): { parameters: Float64Array; at: OrdinalValue } | null {
  for (let length = 1; length > 1e-8; length /= 2) {
    const next = parameters.map((v, i) => v + length * move[i]!);
    const at = ordinalLikelihood(data, next, quadrature);
    if (at && at.value > value) return { parameters: next, at };
  }
  return null;
}

function runsOff({ x, p, categories, y }: OrdinalData, parameters: Float64Array): boolean {
  for (let c = 0; c < p; c++) {
    let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (let i = 0; i < y.length; i++) {
      least = Math.min(least, x[i * p + c]!);
      most = Math.max(most, x[i * p + c]!);
    }
    if (Math.abs(parameters[categories - 1 + c]!) * (most - least) > RUN_OFF) return true;
  }
  return false;
}

function finished(
  problem: OrdinalProblem,
  base: Base,
  data: OrdinalData,
  summit: Summit,
  variance: number | null,
): OrdinalFit {
  const { parameters, at, covariance } = summit;
  const levels = data.categories - 1;
  const size = levels + data.p;
  const sigma = variance ? parameters[size]! : 0;
  const kept = new Float64Array(size * size);
  for (let i = 0; i < size; i++)
    kept.set(covariance.subarray(i * parameters.length, i * parameters.length + size), i * size);
  return {
    ...base,
    status: 'estimated',
    reason: null,
    thresholds: [...parameters.subarray(0, levels)],
    coefficients: problem.names.map((name, c) => {
      const estimate = parameters[levels + c]!;
      const standardError = Math.sqrt(kept[(levels + c) * (size + 1)]!);
      return { name, estimate, standardError, p: 2 * normalUpper(Math.abs(estimate) / standardError) };
    }),
    covariance: kept,
    assessorVariance: variance,
    effects: problem.assessor ? at.modes.map((v) => sigma * v) : base.effects,
    logLikelihood: at.value,
  };
}
