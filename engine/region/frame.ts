import { cholesky, innerProduct, solveLower } from '../numeric/dense.ts';

interface Frame {
  directions: number[][];
  inverse: number[][];
}

/**
 * Directions in shares, scaled by the spread of extreme mixes, so that a thin or slanted region becomes about as
 * long in every direction: with x = inner + W N y, C = L L' the scatter of the mixes in y, the frame is W N L.
 *
 * @param hull orthonormal directions N over shares divided by their widths W (0 = the share is fixed).
 */
export function frameOf(
  hull: readonly (readonly number[])[],
  width: readonly number[],
  points: readonly (readonly number[])[],
): Frame {
  const d = hull.length;
  if (d === 0) return { directions: [], inverse: [] };
  const factor = scatterFactor(hull, width, points);
  const directions = Array.from({ length: d }, (_, k) =>
    width.map((w, i) => w * hull.reduce((sum, h, j) => sum + h[i]! * factor[j * d + k]!, 0)),
  );
  const inverse = Float64Array.from(
    hull.flatMap((h) => h.map((c, i) => (width[i]! > 0 ? c / width[i]! : 0))),
  );
  solveLower({ l: factor, n: d, at: 0 }, inverse, width.length);
  return {
    directions,
    inverse: Array.from({ length: d }, (_, k) => [
      ...inverse.subarray(k * width.length, (k + 1) * width.length),
    ]),
  };
}

function scatterFactor(
  hull: readonly (readonly number[])[],
  width: readonly number[],
  points: readonly (readonly number[])[],
): Float64Array {
  const d = hull.length;
  const scaled = points.map((p) => p.map((v, i) => (width[i]! > 0 ? v / width[i]! : 0)));
  const flat = scaled.map((p) => hull.map((h) => innerProduct(h, p)));
  const centre = hull.map((_, k) => flat.reduce((sum, y) => sum + y[k]!, 0) / flat.length);
  const scatter = new Float64Array(d * d);
  for (const y of flat)
    for (let j = 0; j < d; j++)
      for (let k = 0; k < d; k++)
        scatter[j * d + k] =
          scatter[j * d + k]! + ((y[j]! - centre[j]!) * (y[k]! - centre[k]!)) / flat.length;
  if (cholesky(scatter, d) !== null) return scatter;
  return Float64Array.from({ length: d * d }, (_, i) => (i % (d + 1) === 0 ? 1 : 0));
}
