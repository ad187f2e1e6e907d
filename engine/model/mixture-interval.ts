import { studentQuantile, studentUpper } from '../numeric/student.ts';

/** One model's prediction: mean + standardError · Student's t. */
export interface PredictionPart {
  weight: number;
  mean: number;
  standardError: number;
  df: number;
}

const HALVINGS = 60;

/** Mean and standard deviation of predictions averaged by weight: variances within models plus that of their means. */
export function averageParts(parts: readonly PredictionPart[]): { mean: number; standardError: number } {
  const mean = parts.reduce((sum, part) => sum + part.weight * part.mean, 0);
  const variance = parts.reduce(
    (sum, part) => sum + part.weight * (part.standardError ** 2 + (part.mean - mean) ** 2),
    0,
  );
  return { mean, standardError: Math.sqrt(variance) };
}

/** Ends that leave 2.5 % of the weighted mixture of Student's distributions on either side. */
export function mixtureInterval(parts: readonly PredictionPart[]): [number, number] {
  const [only] = parts;
  if (parts.length === 1 && only) {
    const reach = studentQuantile(0.975, only.df) * only.standardError;
    return [only.mean - reach, only.mean + reach];
  }
  return [quantile(parts, 0.025), quantile(parts, 0.975)];
}

function quantile(parts: readonly PredictionPart[], p: number): number {
  const ends = parts.map(({ mean, standardError, df }) => mean + studentQuantile(p, df) * standardError);
  let [low, high] = [Math.min(...ends), Math.max(...ends)];
  for (let i = 0; i < HALVINGS && high - low > 1e-12 * Math.max(1e-300, Math.abs(low), Math.abs(high)); i++) {
    const middle = (low + high) / 2;
    if (below(parts, middle) < p) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

function below(parts: readonly PredictionPart[], x: number): number {
  return parts.reduce((sum, { weight, mean, standardError, df }) => {
    if (!(standardError > 0)) return sum + weight * Number(x >= mean);
    return sum + weight * studentUpper((mean - x) / standardError, df);
  }, 0);
}
