import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { mersenne } from 'pure-rand/generator/mersenne';
import type { RandomGenerator } from 'pure-rand/types/RandomGenerator';
import { requireCount, requireFinite } from './guard.ts';

/** A stream of random numbers. The same seed and stream give the same numbers on every machine. */
export interface Random {
  /** Uniform in [0, 1). */
  uniform(): number;
  /** Standard normal. */
  normal(): number;
  /** Whole, uniform in 0 … n-1, unbiased. */
  integer(n: number): number;
  /** A shuffled copy. */
  shuffle<T>(items: readonly T[]): T[];
  /** An independent stream of its own, by name; drawing from it does not move this one. */
  fork(name: string): Random;
}

/**
 * A stream by seed and name. Seed and name are hashed together (FNV-1a, then the finaliser of MurmurHash3), since
 * small seeds used as they are give correlated first numbers.
 */
export function createRandom(seed: number, stream = ''): Random {
  requireFinite('seed', seed);
  return new Stream(seed, stream);
}

class Stream implements Random {
  readonly #seed: number;
  readonly #name: string;
  readonly #generator: RandomGenerator;
  #spare: number | null = null;

  constructor(seed: number, name: string) {
    this.#seed = seed;
    this.#name = name;
    this.#generator = mersenne(hash(`${seed} ${name}`));
    for (let i = 0; i < 16; i++) this.#generator.next();
  }

  uniform(): number {
    return uniformFloat64(this.#generator);
  }

  /** Polar method of Marsaglia and Bray (1964): two normals at a time. */
  normal(): number {
    if (this.#spare !== null) {
      const spare = this.#spare;
      this.#spare = null;
      return spare;
    }
    for (;;) {
      const u = 2 * this.uniform() - 1;
      const v = 2 * this.uniform() - 1;
      const s = u * u + v * v;
      if (s > 0 && s < 1) {
        const scale = Math.sqrt((-2 * Math.log(s)) / s);
        this.#spare = v * scale;
        return u * scale;
      }
    }
  }

  integer(n: number): number {
    requireCount('n', n, 1);
    return uniformInt(this.#generator, 0, n - 1);
  }

  shuffle<T>(items: readonly T[]): T[] {
    const out = [...items];
    for (let i = out.length - 1; i > 0; i--) {
      const j = this.integer(i + 1);
      [out[i], out[j]] = [out[j]!, out[i]!];
    }
    return out;
  }

  fork(name: string): Random {
    return new Stream(this.#seed, `${this.#name}/${name}`);
  }
}

function hash(text: string): number {
  let h = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193);
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) | 0;
}
