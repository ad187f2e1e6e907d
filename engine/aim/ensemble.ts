import type { Random } from '../numeric/random.ts';

/**
 * Draws of one quantity at many points, as deviations from their mean, that can be conditioned on an imagined
 * measurement at a point (ensemble form of the linear update; Evensen 2003). Values by draw · points + point.
 */
export class Ensemble {
  readonly count: number;
  readonly points: number;
  readonly mean: Float64Array;
  readonly deviations: Float64Array;

  constructor(values: Float64Array, count: number) {
    this.count = count;
    this.points = values.length / count;
    this.mean = new Float64Array(this.points);
    for (let j = 0; j < values.length; j++) this.mean[j % this.points]! += values[j]! / count;
    this.deviations = values.map((value, j) => value - this.mean[j % this.points]!);
  }

  /** Covariance of one point with each of the listed ones. */
  covariances(point: number, others: readonly number[]): Float64Array {
    const sums = new Float64Array(others.length);
    for (let s = 0; s < this.count; s++) {
      const from = s * this.points;
      const own = this.deviations[from + point]!;
      for (let i = 0; i < others.length; i++) sums[i]! += own * this.deviations[from + others[i]!]!;
    }
    return sums.map((sum) => sum / this.count);
  }

  variance(point: number): number {
    return this.covariances(point, [point])[0]!;
  }

  /**
   * Every draw measures the point with noise of the given variance and takes the update of its own surprise.
   * Returns the surprises.
   */
  condition(point: number, noise: number, random: Random): Float64Array {
    const everywhere = Array.from({ length: this.points }, (_, i) => i);
    const covariances = this.covariances(point, everywhere);
    const total = covariances[point]! + noise;
    const surprises = new Float64Array(this.count);
    for (let s = 0; s < this.count; s++) {
      const from = s * this.points;
      const surprise = this.deviations[from + point]! + Math.sqrt(noise) * random.normal();
      surprises[s] = surprise;
      for (let i = 0; i < this.points; i++)
        this.deviations[from + i]! -= total > 0 ? (covariances[i]! / total) * surprise : 0;
    }
    return surprises;
  }
}
