import type { Cups } from './cups.ts';

/** Each assessor's mean score of each mix; NaN never appears: an empty cell has count 0. */
export interface ProfileTable {
  assessors: number;
  mixes: number;
  /** assessors × mixes, row by row. */
  mean: Float64Array;
  count: Int32Array;
}

/** Levels of assessors and mixes that together describe a table: mean ≈ assessor level + mix level. */
export interface AdditiveFit {
  mix: Float64Array;
  assessor: Float64Array;
  /** Which mixes and assessors had a cell at all. */
  hasMix: boolean[];
}

const ROUNDS = 500;
const STILL = 1e-12;

export function profileTable(cups: Cups): ProfileTable {
  const [assessors, mixes] = [cups.assessors.length, cups.mixes.length];
  const sum = new Float64Array(assessors * mixes);
  const count = new Int32Array(assessors * mixes);
  cups.y.forEach((score, i) => {
    const cell = cups.assessorOf[i]! * mixes + cups.mixOf[i]!;
    sum[cell]! += score;
    count[cell]! += 1;
  });
  return { assessors, mixes, mean: sum.map((s, cell) => (count[cell]! > 0 ? s / count[cell]! : 0)), count };
}

/**
 * Fits mean ≈ assessor + mix over the filled cells of the chosen assessors, each cell counting once, by alternating
 * averages. With no empty cell the mix levels are the plain averages; with gaps, an assessor's own level no longer
 * passes for a difference between mixes. Assessor levels are centred on zero.
 */
export function additiveFit(table: ProfileTable, chosen: readonly number[]): AdditiveFit {
  const mix = new Float64Array(table.mixes);
  const assessor = new Float64Array(table.assessors);
  const hasMix = Array.from({ length: table.mixes }, (_, m) => chosen.some((a) => filled(table, a, m)));
  const mixes = { levels: mix, of: Array.from(mix, (_, m) => m) };
  const assessors = { levels: assessor, of: chosen };
  const scale = table.mean.reduce((most, v) => Math.max(most, Math.abs(v)), 1e-300);
  for (let round = 0; round < ROUNDS; round++) {
    const moved = Math.max(
      level(table, mixes, assessors, (m, a) => a * table.mixes + m),
      level(table, assessors, mixes, (a, m) => a * table.mixes + m),
    );
    if (moved <= STILL * scale) break;
  }
  const average = chosen.reduce((sum, a) => sum + assessor[a]!, 0) / Math.max(1, chosen.length);
  for (const a of chosen) assessor[a]! -= average;
  return { mix: mix.map((v, m) => (hasMix[m] ? v + average : 0)), assessor, hasMix };
}

export function filled(table: ProfileTable, assessor: number, mix: number): boolean {
  return table.count[assessor * table.mixes + mix]! > 0;
}

/** Averages over the others of each cell's mean less the other's level: once for mixes, once for assessors. */
function level(
  { mean, count }: ProfileTable,
  own: { levels: Float64Array; of: readonly number[] },
  other: { levels: Float64Array; of: readonly number[] },
  cellOf: (own: number, other: number) => number,
): number {
  let moved = 0;
  for (const i of own.of) {
    let [sum, cells] = [0, 0];
    for (const j of other.of) {
      const cell = cellOf(i, j);
      if (count[cell]! === 0) continue;
      sum += mean[cell]! - other.levels[j]!;
      cells++;
    }
    if (cells === 0) continue;
    moved = Math.max(moved, Math.abs(sum / cells - own.levels[i]!));
    own.levels[i] = sum / cells;
  }
  return moved;
}
