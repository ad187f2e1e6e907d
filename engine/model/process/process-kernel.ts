import { mean } from 'simple-statistics';
import type { BlendSpace } from '../../region/blend-space.ts';
import type { RegionWidths } from '../fit-types.ts';
import type { Point } from '../posterior-types.ts';
import { coverPoints } from './process-cover.ts';
import { type InputKind, processInputs } from './process-inputs.ts';

/** How ratios enter a kernel, and how far its local part reaches. */
export interface KernelShape {
  kind: InputKind;
  length: number;
}

/** The three parts of a prior over surfaces, before their weights; see `KernelParts.at`. */
export const PARTS = 3;

/**
 * Covariance of a surface at two points as a weighted sum of three parts, each with mean variance one over the
 * region: a plane (inputs about their centre), products of two (its square), and a local part that no polynomial
 * follows (Matérn, smoothness 5/2; Rasmussen and Williams 2006, chapter 4).
 */
export class KernelParts {
  readonly #centre: Float64Array;
  readonly #plane: number;
  readonly #products: number;
  readonly #length: number;

  /**
   * @param cover inputs spread over the region, from which centre and scales are taken
   * @param length distance, in region widths, over which the local part forgets
   */
  constructor(cover: readonly Float64Array[], length: number) {
    const dimensions = cover[0]?.length ?? 0;
    this.#centre = Float64Array.from({ length: dimensions }, (_, d) => mean(cover.map((x) => x[d]!)));
    const squares = cover.map((x) => this.#product(x, x));
    this.#plane = mean(squares) || 1;
    this.#products = mean(squares.map((s) => s * s)) || 1;
    this.#length = length;
  }

  /** Writes plane, products and local part for two inputs. */
  at(a: Float64Array, b: Float64Array, out: Float64Array): void {
    const product = this.#product(a, b);
    out[0] = product / this.#plane;
    out[1] = (product * product) / this.#products;
    let gap = 0;
    for (let d = 0; d < a.length; d++) gap += (a[d]! - b[d]!) ** 2;
    const r = Math.sqrt(5 * gap) / this.#length;
    out[2] = (1 + r + (r * r) / 3) * Math.exp(-r);
  }

  /** The parts for every pair of two lists, pair by pair: rows of `left`, columns of `right`, PARTS numbers each. */
  between(left: readonly Float64Array[], right: readonly Float64Array[]): Float64Array {
    const out = new Float64Array(left.length * right.length * PARTS);
    left.forEach((a, i) => {
      right.forEach((b, j) => {
        const from = (i * right.length + j) * PARTS;
        this.at(a, b, out.subarray(from, from + PARTS));
      });
    });
    return out;
  }

  #product(a: Float64Array, b: Float64Array): number {
    let sum = 0;
    for (let d = 0; d < a.length; d++) sum += (a[d]! - this.#centre[d]!) * (b[d]! - this.#centre[d]!);
    return sum;
  }
}

/** Σ weights·parts for each pair. */
export function weigh(parts: Float64Array, weights: readonly number[]): Float64Array {
  const out = new Float64Array(parts.length / PARTS);
  for (let j = 0; j < out.length; j++) {
    let sum = 0;
    for (let k = 0; k < PARTS; k++) sum += weights[k]! * parts[j * PARTS + k]!;
    out[j] = sum;
  }
  return out;
}

/** Σ weights·parts of one pair, `from` being where its parts begin. */
export function weighAt(parts: Float64Array, from: number, weights: readonly number[]): number {
  return weights[0]! * parts[from]! + weights[1]! * parts[from + 1]! + weights[2]! * parts[from + 2]!;
}

/** Results kept for as long as the list of points they belong to. */
class Kept<T> {
  readonly #known = new WeakMap<readonly Point[], Map<string, T>>();

  of(points: readonly Point[], key: string, make: () => T): T {
    let own = this.#known.get(points);
    if (!own) {
      own = new Map();
      this.#known.set(points, own);
    }
    const known = own.get(key);
    if (known !== undefined) return known;
    const made = make();
    own.set(key, made);
    return made;
  }
}

/**
 * A region's kernels, inputs of one kind with a local part of one reach. Everything is worked out once for a list of
 * points (the same array, not changed since), whichever attribute asks.
 */
export class Kernels {
  readonly #space: BlendSpace;
  readonly #region: RegionWidths;
  readonly #cover: readonly Point[];
  readonly #known = new Map<string, KernelParts>();
  readonly #inputs = new Kept<Float64Array[]>();
  readonly #diagonals = new Kept<Float64Array>();
  readonly #pairs = new Kept<Kept<Float64Array>>();

  /** @param cover points spread over the region; default its own */
  constructor(space: BlendSpace, region: RegionWidths, cover: readonly Point[] = coverPoints(space, region)) {
    this.#space = space;
    this.#region = region;
    this.#cover = cover;
  }

  /** The parts for every pair of two lists of points: rows of `left`, columns of `right`, PARTS numbers each. */
  between(shape: KernelShape, left: readonly Point[], right: readonly Point[]): Float64Array {
    const key = `${shape.kind} ${shape.length}`;
    return this.#pairs
      .of(left, key, () => new Kept())
      .of(right, key, () => {
        return this.#parts(shape).between(
          this.#inputsOf(shape.kind, left),
          this.#inputsOf(shape.kind, right),
        );
      });
  }

  /** The parts of each point with itself, PARTS numbers each. */
  diagonal(shape: KernelShape, points: readonly Point[]): Float64Array {
    return this.#diagonals.of(points, `${shape.kind} ${shape.length}`, () => {
      const parts = this.#parts(shape);
      const out = new Float64Array(points.length * PARTS);
      this.#inputsOf(shape.kind, points).forEach((x, i) => {
        parts.at(x, x, out.subarray(i * PARTS, (i + 1) * PARTS));
      });
      return out;
    });
  }

  #inputsOf(kind: InputKind, points: readonly Point[]): Float64Array[] {
    return this.#inputs.of(points, kind, () => processInputs(this.#space, this.#region, kind, points));
  }

  #parts({ kind, length }: KernelShape): KernelParts {
    const key = `${kind} ${length}`;
    const known = this.#known.get(key);
    if (known) return known;
    const made = new KernelParts(this.#inputsOf(kind, this.#cover), length);
    this.#known.set(key, made);
    return made;
  }
}
