import type { Random } from '../numeric/random.ts';
import type { DistanceDraws } from './distance-draws.ts';
import { Ensemble } from './ensemble.ts';

/** What a new mix would be measured with, and where its worth is judged. */
export interface LearningSetup {
  draws: DistanceDraws;
  /** By attribute that counts: variance of one new mix's mean as this panel gives it. */
  noise: readonly number[];
  /** Points that might be recommended in the end. */
  finalists: readonly number[];
  random: Random;
}

const WORLDS = 64;

/**
 * What tasting a point is expected to teach: the distance expected at the best finalist once the tasting is known
 * (knowledge gradient; Frazier, Powell and Dayanik 2009). Misses are taken as jointly normal with the covariance of
 * the draws; each imagined world is a draw, whose own value plus noise is what is tasted there. After a choice the
 * draws are conditioned on it, so that a batch is chosen in turn.
 */
export class LearningGain {
  readonly #setup: LearningSetup;
  readonly #worlds: number;
  readonly #ensembles: readonly Ensemble[];
  /** By attribute: what would be expected of each finalist in each world, by world · finalists + finalist. */
  readonly #expected: readonly Float64Array[];
  /** By attribute and world: the noise of the tasting that is judged next. */
  #noises: readonly Float64Array[];
  /** By attribute: variances of the finalists as they stand. */
  #variances: readonly Float64Array[];

  constructor(setup: LearningSetup) {
    this.#setup = setup;
    this.#worlds = Math.min(WORLDS, setup.draws.count);
    this.#ensembles = setup.draws.misses.map((own) => new Ensemble(own, setup.draws.count));
    this.#expected = this.#ensembles.map(({ mean }) =>
      Float64Array.from({ length: this.#worlds * setup.finalists.length }, (_, j) => {
        return mean[setup.finalists[j % setup.finalists.length]!]!;
      }),
    );
    this.#noises = this.#drawNoises();
    this.#variances = this.#finalistVariances();
  }

  /** Expected distance at the best finalist after tasting a point, or now where none is given; lower is better. */
  after(point: number | null): number {
    const { finalists, draws } = this.#setup;
    const squares = new Float64Array(this.#worlds * finalists.length);
    this.#ensembles.forEach((_, k) => {
      this.#addSquares(squares, k, point);
    });
    const total = draws.weightOf;
    let sum = 0;
    for (let w = 0; w < this.#worlds; w++) {
      const row = squares.subarray(w * finalists.length, (w + 1) * finalists.length);
      sum += Math.sqrt(row.reduce((a, b) => Math.min(a, b), Infinity) / total);
    }
    return sum / this.#worlds;
  }

  /** Imagines that the point has been tasted. */
  add(point: number): void {
    const { finalists, noise, random } = this.#setup;
    this.#ensembles.forEach((ensemble, k) => {
      const pull = pullOf(ensemble, point, { finalists, noise: noise[k]! });
      const surprises = ensemble.condition(point, noise[k]!, random);
      const expected = this.#expected[k]!;
      for (let w = 0; w < this.#worlds; w++)
        for (let f = 0; f < finalists.length; f++)
          expected[w * finalists.length + f]! += pull[f]! * surprises[w]!;
    });
    this.#noises = this.#drawNoises();
    this.#variances = this.#finalistVariances();
  }

  #finalistVariances(): Float64Array[] {
    const { finalists } = this.#setup;
    return this.#ensembles.map((ensemble) => Float64Array.from(finalists, (z) => ensemble.variance(z)));
  }

  #addSquares(squares: Float64Array, k: number, point: number | null): void {
    const { finalists, noise, draws } = this.#setup;
    const weight = draws.weights[k]!;
    const expected = this.#expected[k]!;
    const ensemble = this.#ensembles[k]!;
    const pull =
      point === null
        ? new Float64Array(finalists.length)
        : pullOf(ensemble, point, { finalists, noise: noise[k]! });
    const total = point === null ? 0 : ensemble.variance(point) + noise[k]!;
    const left = this.#variances[k]!.map((variance, f) => Math.max(0, variance - pull[f]! ** 2 * total));
    for (let w = 0; w < this.#worlds; w++) {
      const own = point === null ? 0 : ensemble.deviations[w * ensemble.points + point]!;
      const surprise = own + this.#noises[k]![w]!;
      const from = w * finalists.length;
      for (let f = 0; f < finalists.length; f++) {
        const mean = expected[from + f]! + pull[f]! * surprise;
        squares[from + f]! += weight * (mean * mean + left[f]!);
      }
    }
  }

  #drawNoises(): Float64Array[] {
    const { noise, random } = this.#setup;
    return noise.map((variance) =>
      Float64Array.from({ length: this.#worlds }, () => Math.sqrt(variance) * random.normal()),
    );
  }
}

/** By finalist: how far a surprise at the point moves what is expected of it. */
function pullOf(
  ensemble: Ensemble,
  point: number,
  by: { finalists: readonly number[]; noise: number },
): Float64Array {
  const total = ensemble.variance(point) + by.noise;
  const covariances = ensemble.covariances(point, by.finalists);
  return covariances.map((covariance) => (total > 0 ? covariance / total : 0));
}
