import { squaredGap } from './scaled-inputs.ts';
import { backward, cholesky, dot, forward, type Surrogate } from './surrogate.ts';

interface Hyper {
  length: number;
  /** Noise variance over signal variance. */
  noise: number;
}

const LENGTHS = [0.3, 0.5, 0.75, 1.1, 1.6, 2.4, 3.6];
const NOISES = [0.003, 0.01, 0.03, 0.1, 0.3, 1];

/**
 * A Gaussian process with constant mean, Matérn 5/2 kernel and noise (Rasmussen and Williams 2006, ch. 2): length
 * and noise ratio by most likelihood on a grid, signal variance and mean in closed form.
 */
export function fitGaussianProcess(inputs: readonly (readonly number[])[], y: readonly number[]): Surrogate {
  let best: { hyper: Hyper; loss: number } | null = null;
  for (const length of LENGTHS)
    for (const noise of NOISES) {
      const hyper = { length, noise };
      const { loss } = condition(inputs, y, hyper);
      if (best === null || loss < best.loss) best = { hyper, loss };
    }
  const { signal } = condition(inputs, y, best!.hyper);
  return processAt(inputs, y, { ...best!.hyper, signal });
}

/** The process with everything held; mean of y by generalised least squares. */
export function processAt(
  inputs: readonly (readonly number[])[],
  y: readonly number[],
  hyper: Hyper & { signal: number },
): Surrogate {
  const { lower, mean, weights } = condition(inputs, y, hyper);
  const predict = (input: readonly number[]) => {
    const k = inputs.map((other) => matern(other, input, hyper.length));
    const solved = forward(lower, k);
    return { mean: mean + dot(k, weights), variance: hyper.signal * Math.max(0, 1 - dot(solved, solved)) };
  };
  const believing = (input: readonly number[]) =>
    processAt([...inputs, input], [...y, predict(input).mean], hyper);
  return { predict, believing };
}

function condition(inputs: readonly (readonly number[])[], y: readonly number[], { length, noise }: Hyper) {
  const n = inputs.length;
  const lower = cholesky(
    inputs.map((a, i) => inputs.map((b, j) => matern(a, b, length) + (i === j ? noise + 1e-8 : 0))),
  );
  const ones = forward(
    lower,
    inputs.map(() => 1),
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

function matern(a: readonly number[], b: readonly number[], length: number): number {
  const r = Math.sqrt(5 * squaredGap(a, b)) / length;
  return (1 + r + (r * r) / 3) * Math.exp(-r);
}
