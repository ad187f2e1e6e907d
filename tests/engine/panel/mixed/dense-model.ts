import { inverse, Matrix } from 'ml-matrix';
import type { MixedProblem } from '../../../../engine/panel/mixed/types.ts';

/** The same model with dense n × n matrices: slow, plain, and independent of the kernel under test. */
export class DenseModel {
  readonly n: number;
  readonly x: Matrix;
  readonly y: Matrix;
  readonly z: Matrix[];
  readonly problem: MixedProblem;

  constructor(problem: MixedProblem, keep?: readonly boolean[]) {
    const p = problem.names.length;
    const rows = [...problem.y.keys()].filter((i) => keep?.[i] ?? true);
    this.problem = problem;
    this.n = rows.length;
    this.x = new Matrix(rows.map((i) => [...problem.fixed.subarray(i * p, i * p + p)]));
    this.y = Matrix.columnVector(rows.map((i) => problem.y[i]!));
    this.z = problem.random.map((f) => {
      const z = Matrix.zeros(rows.length, f.count);
      rows.forEach((row, i) => {
        z.set(i, f.levels[row]!, 1);
      });
      return z;
    });
  }

  /** V over σ² at the ratios. */
  ratioMatrix(tau: ArrayLike<number>): Matrix {
    const v = Matrix.eye(this.n);
    this.z.forEach((z, k) => {
      v.add(z.mmul(z.transpose()).mul(tau[k]!));
    });
    return v;
  }

  /** The restricted likelihood criterion with σ² profiled out. */
  criterion(tau: ArrayLike<number>): number {
    const df = this.n - this.x.columns;
    const v = this.ratioMatrix(tau);
    const { information, square } = this.solve(v);
    return logDet(v) + logDet(information) + df * (1 + Math.log((2 * Math.PI * square) / df));
  }

  /** Generalised least squares at V. */
  solve(v: Matrix) {
    const vi = inverse(v);
    const information = this.x.transpose().mmul(vi).mmul(this.x);
    const beta = inverse(information).mmul(this.x.transpose()).mmul(vi).mmul(this.y);
    const residual = Matrix.sub(this.y, this.x.mmul(beta));
    const weighted = vi.mmul(residual);
    return { information, beta, weighted, square: residual.transpose().mmul(weighted).get(0, 0) };
  }

  /** Henderson's coefficient matrix over [β; u], with σ² and the variances as they are. */
  henderson(sigma2: number, variances: readonly number[]): Matrix {
    const all = this.z.reduce((left, z) => hcat(left, z), this.x);
    const c = all.transpose().mmul(all).div(sigma2);
    let at = this.x.columns;
    this.z.forEach((z, k) => {
      for (let l = 0; l < z.columns; l++, at++) c.set(at, at, c.get(at, at) + 1 / variances[k]!);
    });
    return c;
  }
}

function hcat(a: Matrix, b: Matrix): Matrix {
  const out = Matrix.zeros(a.rows, a.columns + b.columns);
  out.setSubMatrix(a, 0, 0);
  out.setSubMatrix(b, 0, a.columns);
  return out;
}

/** log det of a symmetric positive definite matrix, by plain elimination. */
function logDet(matrix: Matrix): number {
  const a = matrix.to2DArray();
  let sum = 0;
  for (let k = 0; k < a.length; k++) {
    sum += Math.log(a[k]![k]!);
    for (let i = k + 1; i < a.length; i++) {
      const factor = a[i]![k]! / a[k]![k]!;
      for (let j = k; j < a.length; j++) a[i]![j]! -= factor * a[k]![j]!;
    }
  }
  return sum;
}
