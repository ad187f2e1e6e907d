import { backward, cholesky, dot, forward, type Surrogate } from './surrogate.ts';

const PENALTIES = [0.003, 0.01, 0.03, 0.1, 0.3, 1, 3, 10];

/**
 * All products of two of the centred inputs under a ridge: linear terms are shrunk a tenth as much as products.
 * The penalty is the one with the most marginal likelihood, seen as prior variances; the constant is free.
 */
export function fitRidgeQuadratic(inputs: readonly (readonly number[])[], y: readonly number[]): Surrogate {
  const rows = inputs.map(terms);
  let best: { penalty: number; loss: number } | null = null;
  for (const penalty of PENALTIES) {
    const { loss } = condition(rows, y, penalty);
    if (best === null || loss < best.loss) best = { penalty, loss };
  }
  const { signal } = condition(rows, y, best!.penalty);
  return ridgeAt(rows, y, { penalty: best!.penalty, signal });
}

function ridgeAt(
  rows: readonly (readonly number[])[],
  y: readonly number[],
  held: { penalty: number; signal: number },
): Surrogate {
  const { lower, mean, weights } = condition(rows, y, held.penalty);
  const predict = (input: readonly number[]) => {
    const row = terms(input);
    const k = rows.map((other) => kernel(other, row, held.penalty));
    const solved = forward(lower, k);
    const prior = kernel(row, row, held.penalty);
    return { mean: mean + dot(k, weights), variance: held.signal * Math.max(0, prior - dot(solved, solved)) };
  };
  const believing = (input: readonly number[]) =>
    ridgeAt([...rows, terms(input)], [...y, predict(input).mean], held);
  return { predict, believing };
}

/** The ridge in its dual form: prior covariance of the fitted values plus unit noise. */
function condition(rows: readonly (readonly number[])[], y: readonly number[], penalty: number) {
  const n = rows.length;
  const lower = cholesky(rows.map((a, i) => rows.map((b, j) => kernel(a, b, penalty) + (i === j ? 1 : 0))));
  const ones = forward(
    lower,
    rows.map(() => 1),
  );
  const target = forward(lower, y);
  const mean = dot(ones, target) / dot(ones, ones);
  const centred = target.map((t, i) => t - mean * ones[i]!);
  const signal = Math.max(1e-6, dot(centred, centred) / n);
  const logDeterminant = lower.reduce((sum, row, i) => sum + 2 * Math.log(row[i]!), 0);
  return {
    lower,
    mean,
    signal,
    weights: backward(lower, centred),
    loss: n * Math.log(signal) + logDeterminant,
  };
}

function kernel(a: readonly number[], b: readonly number[], penalty: number): number {
  return dot(a, b) / penalty;
}

function terms(input: readonly number[]): number[] {
  const centred = input.map((x) => 2 * x - 1);
  const linear = centred.map((x) => Math.sqrt(10) * x);
  const products = centred.flatMap((x, i) => centred.slice(i).map((z) => x * z));
  return [...linear, ...products];
}
