import { cholesky, solveLower, solveLowerTransposed } from '../../numeric/dense.ts';

/**
 * Minimises g'd + ½ d'H d subject to position + d ≥ 0 exactly, for a positive definite H of a few rows, by trying
 * every set of coordinates that may stand at zero (2^K of them). A coordinate that ends there gets d = -position,
 * so that the full step lands on zero to the last bit.
 *
 * @returns d, or null where H is not positive definite
 */
export function boundedStep(
  gradient: Float64Array,
  hessian: Float64Array,
  position: Float64Array,
): Float64Array | null {
  const size = gradient.length;
  if (cholesky(hessian.slice(), size) === null) return null;
  let best: Float64Array | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (let mask = 0; mask < 1 << size; mask++) {
    const step = stepWithZeros(gradient, hessian, position, mask);
    if (!step?.every((d, k) => position[k]! + d >= 0)) continue;
    const value = quadratic(gradient, hessian, step);
    if (value < least) {
      least = value;
      best = step;
    }
  }
  return best;
}

/** The unconstrained minimiser over the coordinates that `mask` leaves free, the rest going to zero. */
function stepWithZeros(
  gradient: Float64Array,
  hessian: Float64Array,
  position: Float64Array,
  mask: number,
): Float64Array | null {
  const size = gradient.length;
  const step = position.map((v, k) => (mask & (1 << k) ? -v : 0));
  const free = [...gradient.keys()].filter((k) => !(mask & (1 << k)));
  const n = free.length;
  const matrix = new Float64Array(n * n);
  const right = new Float64Array(n);
  free.forEach((a, i) => {
    right[i] = -gradient[a]!;
    for (let k = 0; k < size; k++) right[i]! -= hessian[a * size + k]! * step[k]!;
    free.forEach((b, j) => {
      matrix[i * n + j] = hessian[a * size + b]!;
    });
  });
  if (cholesky(matrix, n) === null) return null;
  solveLower({ l: matrix, n, at: 0 }, right, 1);
  solveLowerTransposed({ l: matrix, n, at: 0 }, right, 1);
  free.forEach((a, i) => {
    step[a] = right[i]!;
  });
  return step;
}

function quadratic(gradient: Float64Array, hessian: Float64Array, step: Float64Array): number {
  let value = 0;
  for (let i = 0; i < step.length; i++) {
    let row = gradient[i]!;
    for (let j = 0; j < step.length; j++) row += (hessian[i * step.length + j]! * step[j]!) / 2;
    value += step[i]! * row;
  }
  return value;
}
