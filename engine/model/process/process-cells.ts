import type { Tasted } from '../tasted.ts';

/** A mix (or the reference) as it was tasted in one session, as this panel scores on average. */
export interface Cell {
  /** Place among the tasted mixes; -1 for the reference. */
  mix: number;
  session: number;
  mean: number;
  cups: number;
}

/** What the panel says of one attribute, boiled down to cells and the variances about them. */
export interface CellSummary {
  cells: Cell[];
  /** Variance of a cup about its cell, once assessors' levels are taken out; null with no degrees of freedom. */
  residual: number | null;
  degrees: number;
  /** Variance between assessors' levels, and how many there are. */
  assessor: number;
  assessors: number;
  /**
   * Mean product of two left-overs of one assessor with one mix in different cups, and how many such pairs there
   * are: it estimates the variance of assessor by mix.
   */
  pairProduct: number;
  pairs: number;
  /** What each cup leaves over, by its row among the servings. */
  leftOver: Map<number, number>;
}

const SWEEPS = 200;
const STILL = 1e-9;
/** Left-overs whose squares are less than this part of the scores' are rounding, not noise. */
const ROUNDING = 1e-16;

/**
 * Fits cell + assessor by least squares in turn (exact in the limit; at once where everybody tasted everything), so
 * that an absent assessor or a missing answer does not move a cell's mean.
 */
export function summariseCells(tasted: Tasted): CellSummary {
  const { cups, reference } = tasted;
  const names = [...new Set(cups.mixOf.map((mix, i) => mix * cups.sessions.length + cups.sessionOf[i]!))];
  const cellOf = cups.mixOf.map((mix, i) => names.indexOf(mix * cups.sessions.length + cups.sessionOf[i]!));
  const { cellMeans, levels } = additiveFit(cups.y, cellOf, cups.assessorOf, {
    cells: names.length,
    assessors: cups.assessors.length,
  });
  const left = cups.y.map((y, i) => y - cellMeans[cellOf[i]!]! - levels[cups.assessorOf[i]!]!);
  const degrees = cups.y.length - names.length - (cups.assessors.length - 1);
  const squares = left.reduce((sum, e) => sum + e * e, 0);
  const counts = new Float64Array(names.length);
  for (const cell of cellOf) counts[cell]! += 1;
  return {
    cells: names.map((name, c) => {
      const mix = Math.floor(name / cups.sessions.length);
      const place = mix === reference ? -1 : mix;
      return { mix: place, session: name % cups.sessions.length, mean: cellMeans[c]!, cups: counts[c]! };
    }),
    residual:
      degrees > 0 && squares > ROUNDING * cups.y.reduce((sum, y) => sum + y * y, 0)
        ? squares / degrees
        : null,
    degrees: Math.max(0, degrees),
    assessor: varianceOf(levels),
    assessors: cups.assessors.length,
    ...pairsOf(left, cups.assessorOf, cups.mixOf),
    leftOver: new Map(Array.from(cups.rows, (row, i) => [row, left[i]!])),
  };
}

function additiveFit(
  y: Float64Array,
  cellOf: Int32Array,
  assessorOf: Int32Array,
  counts: { cells: number; assessors: number },
): { cellMeans: Float64Array; levels: Float64Array } {
  let levels: Float64Array = new Float64Array(counts.assessors);
  let cellMeans: Float64Array = new Float64Array(counts.cells);
  for (let sweep = 0; sweep < SWEEPS; sweep++) {
    const before = cellMeans;
    cellMeans = groupMeans(
      y.map((v, i) => v - levels[assessorOf[i]!]!),
      cellOf,
      counts.cells,
    );
    levels = centred(
      groupMeans(
        y.map((v, i) => v - cellMeans[cellOf[i]!]!),
        assessorOf,
        counts.assessors,
      ),
    );
    if (cellMeans.every((v, c) => Math.abs(v - before[c]!) <= STILL * (1 + Math.abs(v)))) break;
  }
  return { cellMeans, levels };
}

function groupMeans(values: Float64Array, groupOf: Int32Array, groups: number): Float64Array {
  const sums = new Float64Array(groups);
  const counts = new Float64Array(groups);
  values.forEach((v, i) => {
    sums[groupOf[i]!]! += v;
    counts[groupOf[i]!]! += 1;
  });
  return sums.map((sum, g) => (counts[g]! > 0 ? sum / counts[g]! : 0));
}

function centred(values: Float64Array): Float64Array {
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  return values.map((v) => v - mean);
}

function varianceOf(levels: Float64Array): number {
  if (levels.length < 2) return 0;
  return levels.reduce((sum, v) => sum + v * v, 0) / (levels.length - 1);
}

function pairsOf(left: Float64Array, assessorOf: Int32Array, mixOf: Int32Array) {
  let products = 0;
  let pairs = 0;
  for (let i = 0; i < left.length; i++)
    for (let j = 0; j < i; j++)
      if (assessorOf[i] === assessorOf[j] && mixOf[i] === mixOf[j]) {
        products += left[i]! * left[j]!;
        pairs++;
      }
  return { pairProduct: pairs > 0 ? products / pairs : 0, pairs };
}
