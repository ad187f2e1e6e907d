/** A fitted curve over scaled inputs: a mean and a variance anywhere, and the same after imagined data. */
export interface Surrogate {
  predict(input: readonly number[]): { mean: number; variance: number };
  /** The same surrogate, hyperparameters held, having seen its own mean at one more input. */
  believing(input: readonly number[]): Surrogate;
}

/** Fits y over inputs. */
export type Fitter = (inputs: readonly (readonly number[])[], y: readonly number[]) => Surrogate;

/** Lower triangle L of a symmetric positive matrix, row by row: LL' = matrix. */
export function cholesky(matrix: readonly (readonly number[])[]): number[][] {
  const n = matrix.length;
  const lower = matrix.map(() => new Array<number>(n).fill(0));
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i]![j]!;
      for (let k = 0; k < j; k++) sum -= lower[i]![k]! * lower[j]![k]!;
      if (i === j && !(sum > 0)) throw new RangeError(`matrix: not positive at row ${i}`);
      lower[i]![j] = i === j ? Math.sqrt(sum) : sum / lower[j]![j]!;
    }
  return lower;
}

/** Solves L x = b. */
export function forward(lower: readonly (readonly number[])[], b: readonly number[]): number[] {
  const x: number[] = [];
  for (let i = 0; i < b.length; i++) {
    let sum = b[i]!;
    for (let k = 0; k < i; k++) sum -= lower[i]![k]! * x[k]!;
    x.push(sum / lower[i]![i]!);
  }
  return x;
}

/** Solves L' x = b. */
export function backward(lower: readonly (readonly number[])[], b: readonly number[]): number[] {
  const x = [...b];
  for (let i = b.length - 1; i >= 0; i--) {
    for (let k = i + 1; k < b.length; k++) x[i]! -= lower[k]![i]! * x[k]!;
    x[i]! /= lower[i]![i]!;
  }
  return x;
}

export function dot(a: readonly number[], b: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
}
