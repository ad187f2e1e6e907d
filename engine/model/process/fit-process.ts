import { cholesky, solveLower, solveLowerTransposed } from '../../numeric/dense.ts';
import type { Point } from '../posterior-types.ts';
import { type CellNoise, cellCovariance } from './cell-noise.ts';
import type { CellSummary } from './process-cells.ts';
import { type Kernels, weigh } from './process-kernel.ts';
import { AMPLITUDES, amplitudePrior, type Structure, structures } from './process-structures.ts';

/** One attribute's cells with its place on the scale: scores are (score - middle) / unit, in points of 100. */
export interface ProcessAttribute {
  summary: CellSummary;
  noise: CellNoise;
  /** The mixes that its cells name, by place. */
  points: readonly Point[];
  middle: number;
  unit: number;
}

/** One surface of the average: a structure at an amplitude, conditioned on the cells. */
export interface ProcessComponent {
  structure: Structure;
  amplitude: number;
  /** Share of the average over structures and amplitudes. */
  weight: number;
  /** Cholesky factor of the cells' covariance, and that covariance's inverse times the cells' scores. */
  factor: Float64Array;
  weights: Float64Array;
}

/** Standard deviation of an attribute's general level about the middle of its scale, in points of 100. */
export const LEVEL = 30;
/** The same of the reference about that level. */
export const REFERENCE_OWN = 20;
/** How much the other attributes' structures count for one attribute's. */
const POOLED = 0.5;
/** Components that weigh less are left out. */
const LEAST = 0.01;

/**
 * Averages Gaussian processes over shapes and amplitudes by marginal likelihood (no optimiser, so no lucky optimum
 * of twenty mixes). Attributes of one drink are shaped alike more often than not, so each one's likelihood of a
 * shape is joined by the others', at half strength.
 * @returns the components of each attribute, heaviest first
 */
export function fitProcess(kernels: Kernels, attributes: readonly ProcessAttribute[]): ProcessComponent[][] {
  const sessions = Math.max(
    1,
    ...attributes.map(({ summary }) => new Set(summary.cells.map(({ session }) => session)).size),
  );
  const considered = structures(sessions).map((structure) =>
    attributes.map((attribute) => considerStructure(kernels, attribute, structure)),
  );
  return attributes.map((_, k) => averaged(considered, k));
}

interface Conditioned {
  structure: Structure;
  /** Log marginal likelihood with the amplitude averaged out. */
  evidence: number;
  components: (ProcessComponent & { logWeight: number })[];
}

function averaged(considered: readonly Conditioned[][], k: number): ProcessComponent[] {
  const logs = considered.map((row) => {
    const others = row.reduce((sum, { evidence }, j) => (j === k ? sum : sum + evidence), 0);
    return row[k]!.evidence + POOLED * others;
  });
  const all = considered.flatMap((row, t) =>
    row[k]!.components.map((component) => ({
      ...component,
      logWeight: logs[t]! + component.logWeight - row[k]!.evidence,
    })),
  );
  const most = Math.max(...all.map(({ logWeight }) => logWeight));
  const weighed = all.map((component) => ({ ...component, weight: Math.exp(component.logWeight - most) }));
  const total = weighed.reduce((sum, { weight }) => sum + weight, 0);
  const kept = weighed.filter(({ weight }) => weight >= LEAST * total).sort((a, b) => b.weight - a.weight);
  const left = kept.reduce((sum, { weight }) => sum + weight, 0);
  return kept.map(({ structure, amplitude, weight, factor, weights }) => {
    return { structure, amplitude, weight: weight / left, factor, weights };
  });
}

/** One attribute under one structure, at every amplitude. */
export function considerStructure(
  kernels: Kernels,
  attribute: ProcessAttribute,
  structure: Structure,
): Conditioned {
  const given = givenStructure(kernels, attribute, structure);
  const components = AMPLITUDES.map((amplitude) => {
    const { factor, weights, logDensity } = conditionAt(given, amplitude);
    const logWeight = logDensity + amplitudePrior(amplitude);
    return { structure, amplitude, weight: 0, logWeight, factor, weights };
  });
  const most = Math.max(...components.map(({ logWeight }) => logWeight));
  const sum = components.reduce((total, { logWeight }) => total + Math.exp(logWeight - most), 0);
  return { structure, evidence: most + Math.log(sum), components };
}

/** The same surface of the average conditioned on other cells: structure, amplitude and weight held. */
export function conditionedOn(
  kernels: Kernels,
  attribute: ProcessAttribute,
  component: ProcessComponent,
): ProcessComponent {
  const given = givenStructure(kernels, attribute, component.structure);
  const { factor, weights } = conditionAt(given, component.amplitude);
  return { ...component, factor, weights };
}

interface GivenStructure {
  summary: CellSummary;
  scores: Float64Array;
  /** Prior correlation of the mixes, mixes × mixes. */
  shape: Float64Array;
  mixes: number;
  noises: Float64Array;
}

function givenStructure(kernels: Kernels, attribute: ProcessAttribute, structure: Structure): GivenStructure {
  const { summary, noise } = attribute;
  const { points } = attribute;
  return {
    summary,
    scores: scoresOf(attribute),
    shape: weigh(kernels.between(structure, points, points), structure.parts),
    mixes: points.length,
    noises: cellCovariance(summary, noise, structure.session),
  };
}

/** Cholesky factor, covariance inverse times scores, and log density but for its constant. */
function conditionAt({ summary, scores, shape, mixes, noises }: GivenStructure, amplitude: number) {
  const factor = priorCovariance(summary, shape, { amplitude, mixes });
  for (let j = 0; j < factor.length; j++) factor[j]! += noises[j]!;
  const logDeterminant = cholesky(factor, scores.length)!;
  const weights = scores.slice();
  solveLower({ l: factor, n: scores.length, at: 0 }, weights, 1);
  const fit = weights.reduce((sum, v) => sum + v * v, 0);
  solveLowerTransposed({ l: factor, n: scores.length, at: 0 }, weights, 1);
  return { factor, weights, logDensity: -0.5 * (fit + logDeterminant) };
}

function scoresOf({ summary, middle, unit }: ProcessAttribute): Float64Array {
  return Float64Array.from(summary.cells, ({ mean }) => (mean - middle) / unit);
}

/** Covariance of the cells' true averages: one general level, the surface at each mix, the reference by itself. */
function priorCovariance(
  { cells }: CellSummary,
  shape: Float64Array,
  at: { amplitude: number; mixes: number },
): Float64Array {
  const n = cells.length;
  const out = new Float64Array(n * n);
  cells.forEach((a, i) => {
    cells.forEach((b, j) => {
      let value = LEVEL ** 2;
      if (a.mix >= 0 && b.mix >= 0) value += at.amplitude ** 2 * shape[a.mix * at.mixes + b.mix]!;
      else if (a.mix === b.mix) value += REFERENCE_OWN ** 2;
      out[i * n + j] = value;
    });
  });
  return out;
}
