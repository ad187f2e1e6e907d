import { cholesky, solveLower } from '../../numeric/dense.ts';
import type { Random } from '../../numeric/random.ts';
import type { Point, ScorePrediction } from '../posterior-types.ts';
import { LEVEL, type ProcessAttribute, type ProcessComponent, REFERENCE_OWN } from './fit-process.ts';
import { type KernelParts, type Kernels, PARTS, weigh } from './process-kernel.ts';
import type { Structure } from './process-structures.ts';

/** Half-width of a 95 % interval in standard errors. */
const Z95 = 1.959963984540054;
/** Up to so many points every component has its draws; beyond, only the heaviest few, since each needs a factor. */
const FEW_POINTS = 64;
const HEAVIEST = 4;
/** Added to variances of draws, in squared points of 100: points that are nearly the same stay factorable. */
const JITTER = 1e-4;

export interface ProcessDraw {
  count: number;
  /** Standard normals by draw · (points + 1) + point, the last of each draw for the reference. */
  normals: Float64Array;
  random: Random;
  /** Variance that comes on top of every average, in squared scale units. */
  extra: number;
}

/** What structures of one kind and length share about a list of points. */
interface Parts {
  /** Cells' mixes × points, PARTS numbers each. */
  cross: Float64Array;
  kernel: KernelParts;
  inputs: Float64Array[];
}

/** One attribute's average of processes. */
export class AttributeProcess {
  readonly mixVariance: number;
  /** Variance that tasters from outside the panel add to its average. */
  readonly populationVariance: number;
  readonly #kernels: Kernels;
  readonly #attribute: ProcessAttribute;
  readonly #components: readonly ProcessComponent[];

  constructor(kernels: Kernels, attribute: ProcessAttribute, components: readonly ProcessComponent[]) {
    const { noise, unit } = attribute;
    this.#kernels = kernels;
    this.#attribute = attribute;
    this.#components = components;
    this.mixVariance = ((noise.residual + noise.assessorByMix) / noise.assessors) * unit ** 2;
    this.populationVariance = ((2 * noise.assessor) / noise.assessors) * unit ** 2;
  }

  /** Mean and standard error of the mixture; its interval is taken as normal. */
  predict(points: readonly Point[], extra: number): ScorePrediction {
    const { middle, unit } = this.#attribute;
    const mean = new Float64Array(points.length);
    const square = new Float64Array(points.length);
    const known = new Map<string, Parts>();
    for (const component of this.#components) {
      const { weight } = component;
      const parts = this.#partsFor(component.structure, points, known);
      const { cross, explained } = this.#crossed(component, parts, points.length);
      for (let i = 0; i < points.length; i++) {
        const value = this.#meanAt(component, cross, i, points.length);
        const variance = Math.max(0, this.#priorAt(component, parts, i, i) - explained(i, i));
        mean[i]! += weight * value;
        square[i]! += weight * (value * value + variance);
      }
    }
    const standardError = square.map((s, i) => {
      return Math.sqrt(Math.max(0, s - mean[i]! ** 2) * unit ** 2 + extra);
    });
    const scores = mean.map((value) => middle + unit * value);
    return {
      mean: scores,
      standardError,
      low: scores.map((value, i) => value - Z95 * standardError[i]!),
      high: scores.map((value, i) => value + Z95 * standardError[i]!),
    };
  }

  /** Joint draws at points, and of the reference where it was tasted. */
  draw(points: readonly Point[], by: ProcessDraw): { scores: Float64Array; reference: Float64Array | null } {
    const { middle, unit, summary } = this.#attribute;
    const hasReference = summary.cells.some(({ mix }) => mix < 0);
    const scores = new Float64Array(by.count * points.length);
    const reference = hasReference ? new Float64Array(by.count) : null;
    const known = new Map<string, Parts>();
    const lift = Math.sqrt(by.extra);
    this.#allocate(points.length, by).forEach((draws, c) => {
      if (draws.length === 0) return;
      const component = this.#components[c]!;
      const joint = this.#jointly(
        component,
        this.#partsFor(component.structure, points, known),
        hasReference,
      );
      for (const s of draws) {
        const normals = by.normals.subarray(s * (points.length + 1), (s + 1) * (points.length + 1));
        const common = lift * by.random.normal();
        const values = joint(normals);
        for (let i = 0; i < points.length; i++)
          scores[s * points.length + i] = middle + unit * values[i]! + common;
        if (reference) reference[s] = middle + unit * values[points.length]! + common;
      }
    });
    return { scores, reference };
  }

  /** Each component's share of the draws, in random order. */
  #allocate(points: number, { count, random }: ProcessDraw): number[][] {
    const some = points <= FEW_POINTS ? this.#components : this.#components.slice(0, HEAVIEST);
    const total = some.reduce((sum, { weight }) => sum + weight, 0);
    const start = random.uniform();
    const order = random.shuffle(Array.from({ length: count }, (_, s) => s));
    let from = 0;
    let reached = 0;
    return some.map(({ weight }) => {
      reached += weight / total;
      const to = Math.min(count, Math.max(from, Math.ceil(reached * count - start)));
      const own = order.slice(from, reached > 1 - 1e-9 ? count : to);
      from = to;
      return own;
    });
  }

  /** A function from standard normals to values at the points, then the reference. */
  #jointly(component: ProcessComponent, parts: Parts, hasReference: boolean) {
    const points = parts.inputs.length;
    const width = points + Number(hasReference);
    const { cross, explained } = this.#crossed(component, parts, points, hasReference);
    const covariance = new Float64Array(width * width);
    for (let i = 0; i < width; i++)
      for (let j = 0; j <= i; j++)
        covariance[i * width + j] = this.#priorAt(component, parts, i, j) - explained(i, j);
    const means = Float64Array.from({ length: width }, (_, i) => this.#meanAt(component, cross, i, width));
    const factor = factorOf(covariance, width);
    return (normals: Float64Array): Float64Array => {
      const out = means.slice();
      for (let i = 0; i < width; i++) {
        let sum = 0;
        for (let j = 0; j <= i; j++) sum += factor[i * width + j]! * normals[j]!;
        out[i]! += sum;
      }
      return out;
    };
  }

  /** Prior covariance of two points; the place after the last point is the reference. */
  #priorAt({ structure, amplitude }: ProcessComponent, parts: Parts, i: number, j: number): number {
    const [a, b] = [parts.inputs[i], parts.inputs[j]];
    if (!a && !b) return LEVEL ** 2 + REFERENCE_OWN ** 2;
    if (!a || !b) return LEVEL ** 2;
    parts.kernel.at(a, b, SCRATCH);
    return LEVEL ** 2 + amplitude ** 2 * weigh(SCRATCH, structure.parts)[0]!;
  }

  /** Cells × points covariance (the reference last where asked for), and what the cells explain of two points. */
  #crossed(
    { structure, amplitude, factor }: ProcessComponent,
    parts: Parts,
    points: number,
    withReference = false,
  ) {
    const { cells } = this.#attribute.summary;
    const width = points + Number(withReference);
    const shape = weigh(parts.cross, structure.parts);
    const cross = new Float64Array(cells.length * width);
    cells.forEach(({ mix }, c) => {
      for (let i = 0; i < points; i++)
        cross[c * width + i] = LEVEL ** 2 + (mix < 0 ? 0 : amplitude ** 2 * shape[mix * points + i]!);
      if (withReference) cross[c * width + points] = LEVEL ** 2 + (mix < 0 ? REFERENCE_OWN ** 2 : 0);
    });
    const solved = cross.slice();
    solveLower({ l: factor, n: cells.length, at: 0 }, solved, width);
    const explained = (i: number, j: number): number => {
      let sum = 0;
      for (let c = 0; c < cells.length; c++) sum += solved[c * width + i]! * solved[c * width + j]!;
      return sum;
    };
    return { cross, explained };
  }

  #meanAt({ weights }: ProcessComponent, cross: Float64Array, i: number, width: number): number {
    let sum = 0;
    for (let c = 0; c < weights.length; c++) sum += cross[c * width + i]! * weights[c]!;
    return sum;
  }

  #partsFor({ kind, length }: Structure, points: readonly Point[], known: Map<string, Parts>): Parts {
    const key = `${kind} ${length}`;
    const found = known.get(key);
    if (found) return found;
    const kernel = this.#kernels.parts(kind, length);
    const inputs = this.#kernels.inputs(kind, points);
    const mixes = this.#kernels.inputs(kind, this.#attribute.points);
    const parts = { kernel, inputs, cross: kernel.between(mixes, inputs) };
    known.set(key, parts);
    return parts;
  }
}

const SCRATCH = new Float64Array(PARTS);

/** Cholesky factor of a covariance given by its lower triangle, with as much jitter as it needs. */
function factorOf(covariance: Float64Array, n: number): Float64Array {
  for (let jitter = JITTER; ; jitter *= 10) {
    const factor = covariance.slice();
    for (let i = 0; i < n; i++) factor[i * n + i] = Math.max(0, factor[i * n + i]!) + jitter;
    if (cholesky(factor, n) !== null) return factor;
  }
}
