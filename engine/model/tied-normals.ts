import { cholesky } from '../numeric/dense.ts';
import type { Random } from '../numeric/random.ts';

/**
 * Standard normals that are tied between attributes: for each key (a term, the panel's level, a mix), one number a
 * draw and attribute, correlated between attributes as asked. The same key gives the same numbers whoever asks.
 */
export class TiedNormals {
  readonly #factor: Float64Array;
  readonly #attributes: number;
  readonly #known = new Map<string, Float64Array>();
  readonly #count: number;
  readonly #random: Random;

  /** @param correlation attributes × attributes, positive definite */
  constructor(correlation: Float64Array, attributes: number, count: number, random: Random) {
    this.#factor = correlation.slice();
    cholesky(this.#factor, attributes);
    this.#attributes = attributes;
    this.#count = count;
    this.#random = random;
  }

  /** Numbers of one key, by draw · attributes + attribute. */
  of(key: string): Float64Array {
    const known = this.#known.get(key);
    if (known) return known;
    const k = this.#attributes;
    const random = this.#random.fork(key);
    const out = new Float64Array(this.#count * k);
    const plain = new Float64Array(k);
    for (let d = 0; d < this.#count; d++) {
      for (let a = 0; a < k; a++) plain[a] = random.normal();
      for (let a = 0; a < k; a++)
        for (let b = 0; b <= a; b++) out[d * k + a]! += this.#factor[a * k + b]! * plain[b]!;
    }
    this.#known.set(key, out);
    return out;
  }
}
