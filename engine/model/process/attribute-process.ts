import { cholesky, solveLower } from '../../numeric/dense.ts';
import type { Random } from '../../numeric/random.ts';
import type { Point, ScorePrediction } from '../posterior-types.ts';
import { LEVEL, type ProcessAttribute, type ProcessComponent, REFERENCE_OWN } from './fit-process.ts';
import { type Kernels, PARTS, weigh, weighAt } from './process-kernel.ts';

/** Degrees of freedom of a process's intervals. */
export const PROCESS_DF = 8;
/**
 * Half-width of a 95 % interval in standard errors: Student's t with 8 degrees of freedom. The normal's is too short,
 * since noise and shapes are themselves uncertain: at one and a half mixes a term it held 87 to 94 % in simulated
 * worlds, this one 92 to 98 % (docs/coverage.md).
 */
const REACH = 2.306004135204166;
/** Up to so many points every component has its draws; beyond, only the heaviest few, since each needs a factor. */
const FEW_POINTS = 64;
const HEAVIEST = 4;
/** Added to variances of draws, in squared points of 100: points that are nearly the same stay factorable. */
const JITTER = 1e-4;

export interface ProcessDraw {
  count: number;
  /** Standard normals, `normalsPerDraw` a draw: points drawn together, the reference, what a point apart has of its own. */
  normals: Float64Array;
  random: Random;
  /** Variance that comes on top of every average, in squared scale units. */
  extra: number;
  /** Spread as the intervals are: Student's, with the assessors' own reactions to each ratio. */
  asIntervals: boolean;
}

/** Points drawn jointly, and points drawn each with those but not with one another. */
export interface DrawnPoints {
  together: readonly Point[];
  apart: readonly Point[];
}

/** How many standard normals one draw takes. */
export function normalsPerDraw({ together, apart }: DrawnPoints): number {
  return together.length + 1 + Number(apart.length > 0);
}

/** Points drawn together, and the reference where it was tasted. */
interface Block {
  points: readonly Point[];
  width: number;
  means: Float64Array;
  /** Their covariance with the cells over the cells' factor, cells × width. */
  solved: Float64Array;
  /** Places in the order in which they are drawn. */
  order: Int32Array;
  /** Cholesky factor of their covariance in that order. */
  factor: Float64Array;
}

/** Points that are drawn beside a block. */
interface Beside {
  count: number;
  means: Float64Array;
  /** width of the block × count. */
  rows: Float64Array;
  /** Standard deviation of what is each point's own. */
  own: Float64Array;
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

  /**
   * Mean and standard error of the mixture, with what these assessors' own reactions to a ratio add to the surface;
   * its interval is taken as Student's with 8 degrees of freedom.
   */
  predict(points: readonly Point[], extra: number): ScorePrediction {
    const { middle, unit, noise } = this.#attribute;
    const reactions = noise.reaction / noise.assessors;
    const mean = new Float64Array(points.length);
    const square = new Float64Array(points.length);
    for (const component of this.#components) {
      const { weight, weights, amplitude, structure } = component;
      const { cross, solved } = this.#crossed(component, points, false);
      const own = this.#kernels.diagonal(structure, points);
      const value = new Float64Array(points.length);
      const explained = new Float64Array(points.length);
      for (let c = 0; c < weights.length; c++) {
        const from = c * points.length;
        for (let i = 0; i < points.length; i++) {
          value[i]! += cross[from + i]! * weights[c]!;
          explained[i]! += solved[from + i]! ** 2;
        }
      }
      for (let i = 0; i < points.length; i++) {
        const prior = LEVEL ** 2 + amplitude ** 2 * weighAt(own, i * PARTS, structure.parts);
        mean[i]! += weight * value[i]!;
        square[i]! += weight * (value[i]! ** 2 + Math.max(0, prior - explained[i]!));
      }
    }
    const standardError = square.map((s, i) => {
      return Math.sqrt((Math.max(0, s - mean[i]! ** 2) + reactions) * unit ** 2 + extra);
    });
    const scores = mean.map((value) => middle + unit * value);
    return {
      mean: scores,
      standardError,
      low: scores.map((value, i) => value - REACH * standardError[i]!),
      high: scores.map((value, i) => value + REACH * standardError[i]!),
    };
  }

  /** By component of the mixture: its share, and mean and variance of the score at one point less that at another. */
  difference(at: Point, less: Point): { weight: number; mean: number; variance: number }[] {
    const { unit } = this.#attribute;
    const points = [at, less];
    return this.#components.map((component) => {
      const { means, covariance } = this.#momentsAt(component, points, false);
      const variance = covariance[0]! + covariance[3]! - 2 * covariance[2]!;
      return {
        weight: component.weight,
        mean: unit * (means[0]! - means[1]!),
        variance: unit ** 2 * Math.max(0, variance),
      };
    });
  }

  /**
   * Draws of the surface at points, and of the reference where it was tasted: of some jointly, of others each with
   * those but not with one another. For a search without the assessors' own reactions, which differ from ratio to
   * ratio and would make the best of a thousand ratios a lucky one.
   */
  draw(asked: DrawnPoints, by: ProcessDraw): { scores: Float64Array; reference: Float64Array | null } {
    const { middle, unit, summary, noise } = this.#attribute;
    const { together, apart } = asked;
    const hasReference = summary.cells.some(({ mix }) => mix < 0);
    const width = apart.length + together.length;
    const scores = new Float64Array(by.count * width);
    const reference = hasReference ? new Float64Array(by.count) : null;
    const lift = Math.sqrt(by.extra);
    const reactions = by.asIntervals ? unit * Math.sqrt(noise.reaction / noise.assessors) : 0;
    const stride = normalsPerDraw(asked);
    this.#allocate(stride - 1, by).forEach((draws, c) => {
      if (draws.length === 0) return;
      const component = this.#components[c]!;
      const block = this.#jointly(component, together, hasReference);
      const beside = this.#beside(component, apart, block);
      for (const s of draws) {
        const stretch = by.asIntervals ? drawnStretch(by.random) : 1;
        const common = stretch * lift * by.random.normal();
        const normals = by.normals.subarray(s * stride, (s + 1) * stride).map((z) => stretch * z);
        const values = drawnTogether(block, normals);
        const reacted = () => (reactions > 0 ? stretch * reactions * by.random.normal() : 0);
        const out = scores.subarray(s * width, (s + 1) * width);
        for (let i = 0; i < together.length; i++)
          out[apart.length + i] = middle + unit * values[i]! + common + reacted();
        if (reference) reference[s] = middle + unit * values[together.length]! + common;
        if (apart.length === 0) continue;
        const reaction = reacted();
        for (let i = 0; i < apart.length; i++)
          out[i] = middle + unit * drawnBeside(beside, i, { block, normals }) + common + reaction;
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

  /** Means, and the lower triangle of the covariance, at the points and then of the reference. */
  #momentsAt(component: ProcessComponent, points: readonly Point[], hasReference: boolean) {
    const width = points.length + Number(hasReference);
    const { cross, solved } = this.#crossed(component, points, hasReference);
    const covariance = this.#prior(component, points, hasReference);
    const means = new Float64Array(width);
    component.weights.forEach((weight, c) => {
      const own = solved.subarray(c * width, (c + 1) * width);
      for (let i = 0; i < width; i++) {
        means[i]! += cross[c * width + i]! * weight;
        for (let j = 0; j <= i; j++) covariance[i * width + j]! -= own[i]! * own[j]!;
      }
    });
    return { width, means, covariance, solved };
  }

  /** What it takes to draw points, and the reference, together. */
  #jointly(component: ProcessComponent, points: readonly Point[], hasReference: boolean): Block {
    const { width, means, covariance, solved } = this.#momentsAt(component, points, hasReference);
    // the reference comes first, so that its draws do not depend on the points asked for
    const order = Int32Array.from({ length: width }, (_, i) => (hasReference ? (i + width - 1) % width : i));
    const factor = factorOf(inOrder(covariance, order), width);
    return { width, points, means, solved, order, factor };
  }

  /** Of each point: its mean, L⁻¹c with L the factor of the block and c its covariance with it, and what is its own. */
  #beside(component: ProcessComponent, points: readonly Point[], block: Block): Beside {
    const { structure, amplitude, weights } = component;
    const { width, order } = block;
    const { cross, solved } = this.#crossed(component, points, false);
    const between = this.#kernels.between(structure, points, block.points);
    const alone = this.#kernels.diagonal(structure, points);
    const means = new Float64Array(points.length);
    const own = new Float64Array(points.length);
    const rows = new Float64Array(width * points.length);
    points.forEach((_, i) => {
      own[i] = LEVEL ** 2 + amplitude ** 2 * weighAt(alone, i * PARTS, structure.parts);
      for (let b = 0; b < width; b++) {
        const at = order[b]!;
        const shape =
          at < block.points.length
            ? weighAt(between, (i * block.points.length + at) * PARTS, structure.parts)
            : 0;
        rows[b * points.length + i] = LEVEL ** 2 + amplitude ** 2 * shape;
      }
      for (let c = 0; c < weights.length; c++) {
        const seen = solved[c * points.length + i]!;
        means[i]! += cross[c * points.length + i]! * weights[c]!;
        own[i]! -= seen ** 2;
        for (let b = 0; b < width; b++)
          rows[b * points.length + i]! -= seen * block.solved[c * width + order[b]!]!;
      }
    });
    solveLower({ l: block.factor, n: width, at: 0 }, rows, points.length);
    for (let b = 0; b < width; b++)
      for (let i = 0; i < points.length; i++) own[i]! -= rows[b * points.length + i]! ** 2;
    return { count: points.length, means, rows, own: own.map((v) => Math.sqrt(Math.max(0, v) + JITTER)) };
  }

  /** Lower triangle of the prior covariance of the points, the reference last where asked for. */
  #prior({ structure, amplitude }: ProcessComponent, points: readonly Point[], withReference: boolean) {
    const width = points.length + Number(withReference);
    const shapes = this.#kernels.between(structure, points, points);
    const out = new Float64Array(width * width).fill(LEVEL ** 2);
    for (let i = 0; i < points.length; i++)
      for (let j = 0; j <= i; j++)
        out[i * width + j]! +=
          amplitude ** 2 * weighAt(shapes, (i * points.length + j) * PARTS, structure.parts);
    if (withReference) out[out.length - 1]! += REFERENCE_OWN ** 2;
    return out;
  }

  /** Cells × points covariance (the reference last where asked for), and the same divided by the cells' factor. */
  #crossed(
    { structure, amplitude, factor }: ProcessComponent,
    points: readonly Point[],
    withReference: boolean,
  ): { cross: Float64Array; solved: Float64Array } {
    const { summary, points: mixes } = this.#attribute;
    const width = points.length + Number(withReference);
    const shape = weigh(this.#kernels.between(structure, mixes, points), structure.parts);
    const cross = new Float64Array(summary.cells.length * width);
    summary.cells.forEach(({ mix }, c) => {
      for (let i = 0; i < points.length; i++)
        cross[c * width + i] = LEVEL ** 2 + (mix < 0 ? 0 : amplitude ** 2 * shape[mix * points.length + i]!);
      if (withReference) cross[c * width + points.length] = LEVEL ** 2 + (mix < 0 ? REFERENCE_OWN ** 2 : 0);
    });
    const solved = cross.slice();
    solveLower({ l: factor, n: summary.cells.length, at: 0 }, solved, width);
    return { cross, solved };
  }
}

/** Values of a block from standard normals: its points, then the reference. */
function drawnTogether({ width, means, order, factor }: Block, normals: Float64Array): Float64Array {
  const out = means.slice();
  for (let i = 0; i < width; i++) {
    let sum = 0;
    for (let j = 0; j <= i; j++) sum += factor[i * width + j]! * normals[order[j]!]!;
    out[order[i]!]! += sum;
  }
  return out;
}

/** Value of one point beside a block, in the same draw. */
function drawnBeside(
  { count, means, rows, own }: Beside,
  point: number,
  { block, normals }: { block: Block; normals: Float64Array },
): number {
  let value = means[point]! + own[point]! * normals[normals.length - 1]!;
  for (let b = 0; b < block.width; b++) value += rows[b * count + point]! * normals[block.order[b]!]!;
  return value;
}

/** The lower triangle with rows and columns in another order. */
function inOrder(covariance: Float64Array, order: Int32Array): Float64Array {
  const n = order.length;
  const out = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) {
      const [a, b] = [order[i]!, order[j]!];
      out[i * n + j] = covariance[a >= b ? a * n + b : b * n + a]!;
    }
  return out;
}

/** √(ν / χ²) with χ² the sum of ν squared normals: makes a normal draw one of Student's. */
function drawnStretch(random: Random): number {
  let squares = 0;
  for (let i = 0; i < PROCESS_DF; i++) squares += random.normal() ** 2;
  return Math.sqrt(PROCESS_DF / squares);
}

/** Cholesky factor of a covariance given by its lower triangle, with as much jitter as it needs. */
function factorOf(covariance: Float64Array, n: number): Float64Array {
  for (let jitter = JITTER; ; jitter *= 10) {
    const factor = covariance.slice();
    for (let i = 0; i < n; i++) factor[i * n + i] = Math.max(0, factor[i * n + i]!) + jitter;
    if (cholesky(factor, n) !== null) return factor;
  }
}
