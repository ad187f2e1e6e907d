import { fisherUpper } from '../numeric/fisher.ts';
import { independentColumns } from '../numeric/least-squares.ts';
import { orthogonalFactors, solveUpper } from '../numeric/orthogonal.ts';
import { studentTwoSided } from '../numeric/student.ts';
import type { Cups } from './cups.ts';
import { type MixedAssessorReading, noTest, type Test } from './reading-types.ts';

/** One assessor's scores of one mix. */
interface Cell {
  assessor: number;
  mix: number;
  /** Root of the number of cups. */
  weight: number;
  mean: number;
}

/** Sums of squares below this part of the scores' own are rounding. */
const ROUNDING = 1e-20;

/**
 * The mixed assessor model (Brockhoff, Schlich and Skovgaard 2015, Food Quality and Preference 39, 156-166): score =
 * assessor + mix + slope of the assessor on the panel's mix levels + disagreement + noise. What assessors by mixes
 * leave over is parted into differences in the use of the scale and disagreement proper; mixes are tested against
 * the latter, so that somebody who merely uses more of the scale no longer hides them. Sums of squares are taken in
 * that order (each after those before), with the panel's levels from assessor + mix.
 */
export function readMixedAssessor(cups: Cups): MixedAssessorReading {
  const { cells, within, withinDf } = cellsOf(cups);
  const assessors = new Set(cells.map(({ assessor }) => assessor)).size;
  const mixes = cups.mixes.length;
  if (assessors < 2 || mixes < 3) return without('fewer than two assessors or three mixes');
  const level = afterAssessors(cells, null, mixes);
  if (level.rank < mixes - 1) return without('not all mixes can be compared within assessors');
  const profile = level.coefficients;
  const scaled = afterAssessors(cells, profile, mixes);
  const size = ROUNDING * cells.reduce((sum, { weight, mean }) => sum + (weight * mean) ** 2, 0);
  const left = { squares: scaled.left, df: cells.length - scaled.used - scaled.rank };
  if (left.df < 1) return without('too few cups to tell use of the scale from disagreement');
  if (!(left.squares > size)) return without('assessors do not disagree at all');
  const scaling = {
    squares: Math.max(0, level.left - scaled.left),
    df: scaled.used + scaled.rank - level.used - level.rank,
  };
  const mix = { squares: level.all - level.left, df: level.rank };
  return {
    mixTest: ratio(mix, left),
    scaling: scaling.df > 0 ? ratio(scaling, left) : noTest('the mixes do not differ'),
    disagreement:
      withinDf > 0 && within > size
        ? ratio(left, { squares: within, df: withinDf })
        : noTest('no mix was scored twice'),
    slopes: slopesOf(cups, cells, profile, left),
  };
}

interface Squares {
  squares: number;
  df: number;
}

function ratio(above: Squares, below: Squares): Test {
  const f = above.squares / above.df / (below.squares / below.df);
  return { f, numDf: above.df, denDf: below.df, p: fisherUpper(f, above.df, below.df) };
}

function without(reason: string): MixedAssessorReading {
  return { mixTest: noTest(reason), scaling: noTest(reason), disagreement: noTest(reason), slopes: [] };
}

function cellsOf({ y, assessorOf, mixOf, mixes }: Cups) {
  const groups = new Map<number, number[]>();
  y.forEach((score, i) => {
    const key = assessorOf[i]! * mixes.length + mixOf[i]!;
    const group = groups.get(key);
    if (group) group.push(score);
    else groups.set(key, [score]);
  });
  let within = 0;
  const cells = [...groups].map(([key, scores]): Cell => {
    const mean = scores.reduce((sum, v) => sum + v, 0) / scores.length;
    within += scores.reduce((sum, v) => sum + (v - mean) ** 2, 0);
    const [assessor, mix] = [Math.floor(key / mixes.length), key % mixes.length];
    return { assessor, mix, weight: Math.sqrt(scores.length), mean };
  });
  return { cells, within, withinDf: y.length - cells.length };
}

/**
 * Least squares of the mixes once each assessor's own level (and, with a profile, slope on it) is projected out.
 * `all`: squares before the mixes, `left`: after; `used`: dimensions of what was projected out.
 */
function afterAssessors(cells: readonly Cell[], profile: readonly number[] | null, mixes: number) {
  return completeTable(cells, profile, mixes) ?? anyTable(cells, profile, mixes);
}

/**
 * Where every assessor scored every mix as often as the others did, the same directions are projected out of each
 * and the mixes' least squares are plain means over assessors; null elsewhere.
 */
function completeTable(cells: readonly Cell[], profile: readonly number[] | null, mixes: number) {
  const groups = byAssessor(cells).map((own) => own.map((i) => cells[i]!).sort((a, b) => a.mix - b.mix));
  const [first] = groups;
  const alike = groups.every(
    (own) => own.length === mixes && own.every(({ weight }, m) => weight === first![m]!.weight),
  );
  if (!first || !alike) return null;
  const basis = ownBasis(first, profile);
  const left = groups.map((own) =>
    project(
      own.map(({ weight, mean }) => weight * mean),
      basis,
    ),
  );
  const middle = first.map((_, m) => left.reduce((sum, v) => sum + v[m]!, 0) / groups.length);
  const squares = (of: (value: number, m: number) => number) =>
    left.reduce((sum, v) => sum + v.reduce((own, value, m) => own + of(value, m) ** 2, 0), 0);
  const means = first.map((_, m) => groups.reduce((sum, own) => sum + own[m]!.mean, 0) / groups.length);
  return {
    used: groups.length * basis.length,
    all: squares((value) => value),
    left: squares((value, m) => value - middle[m]!),
    rank: mixes - basis.length,
    coefficients: means.map((mean) => mean - means[0]!),
  };
}

/** What is left of a vector beside orthonormal directions. */
function project(values: readonly number[], basis: readonly (readonly number[])[]): number[] {
  let v = [...values];
  for (const direction of basis) {
    const along = v.reduce((sum, x, k) => sum + x * direction[k]!, 0);
    v = v.map((x, k) => x - along * direction[k]!);
  }
  return v;
}

function anyTable(cells: readonly Cell[], profile: readonly number[] | null, mixes: number) {
  const rows = new Float64Array(cells.length * (mixes - 1));
  const scores = new Float64Array(cells.length);
  let used = 0;
  for (const own of byAssessor(cells)) {
    const basis = ownBasis(
      own.map((i) => cells[i]!),
      profile,
    );
    used += basis.length;
    const without = (value: (cell: Cell) => number): number[] =>
      project(
        own.map((i) => cells[i]!.weight * value(cells[i]!)),
        basis,
      );
    without(({ mean }) => mean).forEach((x, k) => {
      scores[own[k]!] = x;
    });
    for (let m = 1; m < mixes; m++)
      without(({ mix }) => Number(mix === m)).forEach((x, k) => {
        rows[own[k]! * (mixes - 1) + m - 1] = x;
      });
  }
  return { used, all: scores.reduce((sum, v) => sum + v * v, 0), ...solved(rows, scores, mixes - 1) };
}

/** Least squares by orthogonal factors; `left` is what the columns do not take up, the first mix stands at zero. */
function solved(rows: Float64Array, scores: Float64Array, p: number) {
  const n = scores.length;
  const kept = independentColumns(rows, n, p);
  const m = kept.length;
  const used = Float64Array.from({ length: n * m }, (_, at) => rows[Math.floor(at / m) * p + kept[at % m]!]!);
  const { q, r } = orthogonalFactors(used, n, m);
  const along = new Float64Array(m);
  scores.forEach((v, i) => {
    for (let j = 0; j < m; j++) along[j]! += q[i * m + j]! * v;
  });
  let left = 0;
  scores.forEach((v, i) => {
    let rest = v;
    for (let j = 0; j < m; j++) rest -= q[i * m + j]! * along[j]!;
    left += rest * rest;
  });
  const coefficients = new Array<number>(p + 1).fill(0);
  solveUpper(r, along).forEach((value, j) => {
    coefficients[kept[j]! + 1] = value;
  });
  return { rank: m, left, coefficients };
}

/** Orthonormal directions of one assessor's level and slope, over the assessor's cells. */
function ownBasis(own: readonly Cell[], profile: readonly number[] | null): number[][] {
  const length = (v: readonly number[]) => Math.sqrt(v.reduce((sum, x) => sum + x * x, 0));
  const whole = own.map(({ weight }) => weight);
  const level = whole.map((x) => x / length(whole));
  if (!profile) return [level];
  const raw = own.map(({ weight, mix }) => weight * profile[mix]!);
  const along = raw.reduce((sum, x, k) => sum + x * level[k]!, 0);
  const rest = raw.map((x, k) => x - along * level[k]!);
  const size = length(rest);
  return size > 1e-10 * Math.max(length(raw), 1e-300) ? [level, rest.map((x) => x / size)] : [level];
}

function byAssessor(cells: readonly Cell[]): number[][] {
  const groups = new Map<number, number[]>();
  cells.forEach(({ assessor }, i) => {
    const group = groups.get(assessor);
    if (group) group.push(i);
    else groups.set(assessor, [i]);
  });
  return [...groups.values()];
}

/** With J assessors alike the variance of a slope about their mean is (1 - 1/J) σ² / Σ w (x - x̄)². */
function slopesOf(cups: Cups, cells: readonly Cell[], profile: readonly number[], left: Squares) {
  const groups = byAssessor(cells);
  const spare = 1 - 1 / groups.length;
  return groups.flatMap((own) => {
    const list = own.map((i) => cells[i]!);
    const total = list.reduce((sum, { weight }) => sum + weight ** 2, 0);
    const centre = (value: (cell: Cell) => number) =>
      list.reduce((sum, cell) => sum + cell.weight ** 2 * value(cell), 0) / total;
    const [x0, y0] = [centre(({ mix }) => profile[mix]!), centre(({ mean }) => mean)];
    let [sxx, sxy] = [0, 0];
    for (const { weight, mix, mean } of list) {
      sxx += (weight * (profile[mix]! - x0)) ** 2;
      sxy += weight ** 2 * (profile[mix]! - x0) * (mean - y0);
    }
    if (!(sxx > ROUNDING * total * (x0 * x0 + 1))) return [];
    const slope = sxy / sxx;
    const standardError = Math.sqrt((spare * left.squares) / left.df / sxx);
    const p = studentTwoSided((slope - 1) / standardError, left.df);
    return [{ assessor: cups.assessors[list[0]!.assessor]!, slope, standardError, p }];
  });
}
