import type { DistanceDraws } from './distance-draws.ts';

/**
 * Softness of the improvement in points of 100: below it the gain of a point that never wins falls off smoothly
 * instead of to a flat zero, so that the search always knows which way is better.
 */
const SOFTNESS = 0.05;

/**
 * Greedy choice of a batch by expected improvement of the distance, all points judged on the same joint draws:
 * E[max(0, incumbent - best of the batch)], where the incumbent of a draw is the least distance among the mixes
 * that exist already (noisy expected improvement, Letham et al. 2019; composite form, Astudillo and Frazier 2019;
 * softened and in logarithms after Ament et al. 2023). Greedy is within 1 - 1/e of the best batch, since the
 * improvement is submodular (Nemhauser, Wolsey and Fisher 1978).
 */
export class BatchImprovement {
  readonly #draws: DistanceDraws;
  readonly #incumbent: Float64Array;

  /** @param existing points that stand for mixes already tasted; with none, the worst point of each draw. */
  constructor(draws: DistanceDraws, existing: readonly number[]) {
    this.#draws = draws;
    this.#incumbent = new Float64Array(draws.count);
    for (let s = 0; s < draws.count; s++) {
      const row = draws.distance.subarray(s * draws.points, (s + 1) * draws.points);
      this.#incumbent[s] =
        existing.length > 0
          ? Math.min(...existing.map((i) => row[i]!))
          : row.reduce((a, b) => Math.max(a, b), 0);
    }
  }

  /** Mean improvement that one more point would bring, in points of 100. */
  gain(point: number): number {
    return this.#mean(point, (drop) => Math.max(0, drop));
  }

  /** Logarithm of the softened improvement; finite for every point. */
  logGain(point: number): number {
    return Math.log(this.#mean(point, soft));
  }

  /** Puts a point into the batch: from now on improvements are counted beyond it. */
  add(point: number): void {
    const { points, distance } = this.#draws;
    this.#incumbent.forEach((least, s) => {
      this.#incumbent[s] = Math.min(least, distance[s * points + point]!);
    });
  }

  /** Mean over draws of the least distance so far. */
  least(): number {
    return this.#incumbent.reduce((a, b) => a + b, 0) / this.#incumbent.length;
  }

  #mean(point: number, worth: (drop: number) => number): number {
    const { points, distance, count } = this.#draws;
    let sum = 0;
    for (let s = 0; s < count; s++) sum += worth(this.#incumbent[s]! - distance[s * points + point]!);
    return sum / count;
  }
}

/**
 * A positive part that never reaches zero: τ·log(1 + exp(x/τ)), plus a thin quadratic tail τ·1e-3/(1 + (x/τ)²) that
 * keeps the logarithm finite where the exponential underflows.
 */
function soft(drop: number): number {
  const x = drop / SOFTNESS;
  const plus = x > 30 ? x : Math.log1p(Math.exp(x));
  return SOFTNESS * (plus + 1e-3 / (1 + x * x));
}
