import { EigenvalueDecomposition, Matrix } from 'ml-matrix';

/** Nodes x and weights w with ∫ f(x) exp(-x²) dx ≈ Σ w f(x). */
export interface Quadrature {
  nodes: number[];
  weights: number[];
}

/** Gauss-Hermite quadrature from the eigenvectors of the Jacobi matrix (Golub and Welsch 1969). */
export function gaussHermite(count: number): Quadrature {
  const jacobi = Matrix.zeros(count, count);
  for (let i = 1; i < count; i++) {
    jacobi.set(i, i - 1, Math.sqrt(i / 2));
    jacobi.set(i - 1, i, Math.sqrt(i / 2));
  }
  const { realEigenvalues, eigenvectorMatrix } = new EigenvalueDecomposition(jacobi, {
    assumeSymmetric: true,
  });
  return {
    nodes: realEigenvalues,
    weights: realEigenvalues.map((_, i) => Math.sqrt(Math.PI) * eigenvectorMatrix.get(0, i) ** 2),
  };
}
