import { Matrix, SingularValueDecomposition } from 'ml-matrix';

/**
 * Turns (and mirrors, but does not stretch) a set of points so that it lies closest to a target set, both centred
 * (Schönemann 1966, Psychometrika 31, 1-10).
 *
 * @param points rows × dimensions @param target the same shape
 */
export function procrustes(
  points: readonly (readonly number[])[],
  target: readonly (readonly number[])[],
): number[][] {
  const moving = new Matrix(points.map((row) => [...row]));
  const cross = moving.transpose().mmul(new Matrix(target.map((row) => [...row])));
  const svd = new SingularValueDecomposition(cross);
  return moving.mmul(svd.leftSingularVectors.mmul(svd.rightSingularVectors.transpose())).to2DArray();
}
