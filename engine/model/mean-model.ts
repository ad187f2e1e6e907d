import {
  cholesky,
  inverseFromCholesky,
  inverseOfPositive,
  multiply,
  multiplyTransposed,
} from '../numeric/dense.ts';

/** The generalised least squares fit of means y ~ N(Xβ, V), worked out once for everything asked of it. */
export interface MeanFit {
  beta: Float64Array;
  /** (X'V⁻¹X)⁻¹, p × p. */
  betaCovariance: Float64Array;
  /** V⁻¹ - V⁻¹X(X'V⁻¹X)⁻¹X'V⁻¹, m × m. */
  projection: Float64Array;
  /** Projection times y. */
  weights: Float64Array;
  /** -½ [log |V| + log |X'V⁻¹X| + y'Py], constants left out. */
  logRestrictedLikelihood: number;
}

/** Null where V is not positive definite or the columns of X (m × p, row by row) depend on each other. */
export function fitMeans(y: Float64Array, x: Float64Array, v: Float64Array): MeanFit | null {
  const m = y.length;
  const p = x.length / m;
  const factor = v.slice();
  const logV = cholesky(factor, m);
  if (logV === null) return null;
  const inverse = inverseFromCholesky(factor, m);
  const weighted = multiply(inverse, x, m);
  const information = multiplyTransposed(x, weighted, m);
  const logInformation = cholesky(information.slice(), p);
  const betaCovariance = inverseOfPositive(information, p);
  if (logInformation === null || betaCovariance === null) return null;
  const half = multiply(weighted, betaCovariance, p);
  const projection = inverse.slice();
  for (let i = 0; i < m; i++)
    for (let j = 0; j < m; j++)
      for (let k = 0; k < p; k++) projection[i * m + j]! -= half[i * p + k]! * weighted[j * p + k]!;
  const weights = multiply(projection, y, m);
  const quadratic = y.reduce((sum, value, i) => sum + value * weights[i]!, 0);
  return {
    beta: multiplyTransposed(half, y, m),
    betaCovariance,
    projection,
    weights,
    logRestrictedLikelihood: -0.5 * (logV + logInformation + quadratic),
  };
}

/**
 * Log density of each group's means given all others, with β flat and V known (Dubrule 1983, Mathematical Geology
 * 15, 687-699): with P the projection, the misses are P_gg⁻¹ (Py)_g and their covariance P_gg⁻¹. Null where some
 * group cannot be predicted from the others.
 */
export function leaveGroupsOut(
  fit: Pick<MeanFit, 'projection' | 'weights'>,
  groupOf: Int32Array,
): Float64Array | null {
  const m = groupOf.length;
  const groups = Math.max(-1, ...groupOf) + 1;
  const out = new Float64Array(groups);
  const largest = fit.projection.reduce((most, v, at) => (at % (m + 1) === 0 ? Math.max(most, v) : most), 0);
  for (let g = 0; g < groups; g++) {
    const members = [...groupOf.keys()].filter((i) => groupOf[i] === g);
    const density = densityOfGroup(fit, members, { m, least: OWN * largest });
    if (density === null) return null;
    out[g] = density;
  }
  return out;
}

/** A group of whose information less than this part is its own cannot be told from the others. */
const OWN = 1e-9;

function densityOfGroup(
  { projection, weights }: Pick<MeanFit, 'projection' | 'weights'>,
  members: readonly number[],
  { m, least }: { m: number; least: number },
): number | null {
  const k = members.length;
  const block = Float64Array.from({ length: k * k }, (_, at) => {
    return projection[members[Math.floor(at / k)]! * m + members[at % k]!]!;
  });
  if (members.some((i) => projection[i * m + i]! < least)) return null;
  const inverse = inverseOfPositive(block, k, OWN);
  const logBlock = cholesky(block.slice(), k, 0, OWN);
  if (inverse === null || logBlock === null) return null;
  let quadratic = 0;
  for (let a = 0; a < k; a++)
    for (let b = 0; b < k; b++)
      quadratic += weights[members[a]!]! * inverse[a * k + b]! * weights[members[b]!]!;
  return -0.5 * (k * Math.log(2 * Math.PI) - logBlock + quadratic);
}
