import { dot } from '../numeric/dense.ts';
import type { DesignState, Leaving } from './design-state.ts';

/** A blend with coded settings. */
export interface Spot {
  shares: readonly number[];
  coded: readonly number[];
}

/**
 * Candidates with g'Ag and g'A²g kept up to date, so that judging one exchange costs two inner products of length
 * p, and following one that is carried out four.
 */
export class CandidateTable {
  readonly spots: readonly Spot[];
  readonly #rows: Float64Array;
  readonly #p: number;
  readonly #variance: Float64Array;
  readonly #square: Float64Array;

  /** @param rows candidates × p, in the coordinates of the design. */
  constructor(spots: readonly Spot[], rows: Float64Array) {
    this.spots = spots;
    this.#rows = rows;
    this.#p = spots.length === 0 ? 0 : rows.length / spots.length;
    this.#variance = new Float64Array(spots.length);
    this.#square = new Float64Array(spots.length);
  }

  row(c: number): Float64Array {
    return this.#rows.subarray(c * this.#p, (c + 1) * this.#p);
  }

  /** Computes all products with A afresh: p² a candidate. */
  refresh(state: DesignState): void {
    const ag = new Float64Array(this.#p);
    for (let c = 0; c < this.spots.length; c++) {
      const g = this.row(c);
      state.times(g, ag);
      this.#variance[c] = dot(g, ag);
      this.#square[c] = dot(ag, ag);
    }
  }

  /**
   * The candidate with the largest gain over the row that leaves; null where none gains more than `least`.
   *
   * @param bonus what a candidate gains beside the criterion; default nothing
   */
  best(
    state: DesignState,
    leaving: Leaving,
    least: number,
    allowed: (candidate: number) => boolean,
    bonus: ((candidate: number) => number) | null = null,
  ): number | null {
    const weight = state.weights[leaving.row]!;
    const root = Math.sqrt(weight);
    const onlyDeterminant = state.criterion === 'determinant';
    const entering = { variance: 0, square: 0, mixed: 0, mixedSquare: 0 };
    let best: number | null = null;
    let most = least;
    for (let c = 0; c < this.spots.length; c++) {
      const at = c * this.#p;
      let mixed = 0;
      let mixedSquare = 0;
      for (let k = 0; k < this.#p; k++) mixed += this.#rows[at + k]! * leaving.a[k]!;
      if (!onlyDeterminant)
        for (let k = 0; k < this.#p; k++) mixedSquare += this.#rows[at + k]! * leaving.b[k]!;
      entering.variance = weight * this.#variance[c]!;
      entering.square = weight * this.#square[c]!;
      entering.mixed = root * mixed;
      entering.mixedSquare = root * mixedSquare;
      const gain = state.gain(leaving, entering) + (bonus === null ? 0 : bonus(c));
      if (gain > most && allowed(c)) {
        most = gain;
        best = c;
      }
    }
    return best;
  }

  /**
   * The allowed candidate whose addition lowers the criterion most: by g'A²g / (1 + g'Ag), or by log(1 + g'Ag); null
   * where none is allowed.
   */
  bestAddition(state: DesignState, allowed: (spot: Spot) => boolean): number | null {
    let best: number | null = null;
    let most = Number.NEGATIVE_INFINITY;
    for (let c = 0; c < this.spots.length; c++) {
      const grown = 1 + this.#variance[c]!;
      const gain = state.criterion === 'determinant' ? grown : this.#square[c]! / grown;
      if (gain > most && allowed(this.spots[c]!)) {
        most = gain;
        best = c;
      }
    }
    return best;
  }

  /** Puts a row in place of another in the state and follows with all products. */
  exchange(state: DesignState, leaving: Leaving, g: Float64Array): void {
    const { ag, af, aag, aaf, first, cross, second } = state.exchange(leaving, g);
    const p = this.#p;
    const gg = dot(ag, ag);
    const gf = dot(ag, af);
    const ff = dot(af, af);
    for (let c = 0; c < this.spots.length; c++) {
      const at = c * p;
      let x = 0;
      let y = 0;
      let u = 0;
      let v = 0;
      for (let k = 0; k < p; k++) {
        const value = this.#rows[at + k]!;
        x += value * ag[k]!;
        y += value * af[k]!;
        u += value * aag[k]!;
        v += value * aaf[k]!;
      }
      const left = first * x + cross * y;
      const right = cross * x + second * y;
      this.#variance[c] = this.#variance[c]! - (left * x + right * y);
      this.#square[c] =
        this.#square[c]! -
        2 * (left * u + right * v) +
        left * left * gg +
        2 * left * right * gf +
        right * right * ff;
    }
  }
}
