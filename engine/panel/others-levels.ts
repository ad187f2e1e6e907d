import { cholesky, solveLower, solveLowerTransposed } from '../numeric/dense.ts';
import { additiveFit, filled, type ProfileTable } from './profile-table.ts';

/** Relative size below which a pivot says that not all mixes hang together. */
const APART = 1e-9;

/**
 * The mix levels of a panel without one assessor after another: those of the additive fit, from its normal equations
 * with the assessors' own levels projected out. Taking an assessor out takes one small matrix off the sum, so that
 * the work grows with the assessors and not with their square.
 */
export class OthersLevels {
  readonly #table: ProfileTable;
  readonly #panel: readonly number[];
  /** Σ over assessors of I - 11'/k over their k mixes, mixes × mixes, and of their centred means. */
  readonly #matrix: Float64Array;
  readonly #side: Float64Array;
  readonly #cells: Int32Array;
  readonly #sums: Float64Array;

  constructor(table: ProfileTable, panel: readonly number[]) {
    this.#table = table;
    this.#panel = panel;
    this.#matrix = new Float64Array(table.mixes ** 2);
    this.#side = new Float64Array(table.mixes);
    this.#cells = new Int32Array(table.mixes);
    this.#sums = new Float64Array(table.mixes);
    for (const a of panel) this.#add(a, 1, this.#matrix, this.#side, this.#cells, this.#sums);
  }

  /** Levels without one assessor, and which mixes the others tasted. */
  without(assessor: number): { mix: Float64Array; hasMix: boolean[] } {
    const n = this.#table.mixes;
    const [matrix, side] = [this.#matrix.slice(), this.#side.slice()];
    const [cells, sums] = [this.#cells.slice(), this.#sums.slice()];
    if (this.#panel.includes(assessor)) this.#add(assessor, -1, matrix, side, cells, sums);
    const present = [...cells.keys()].filter((m) => cells[m]! > 0);
    const level =
      sums.reduce((sum, v) => sum + v, 0) /
      Math.max(
        1,
        cells.reduce((sum, c) => sum + c, 0),
      );
    for (const i of present) for (const j of present) matrix[i * n + j]! += 1 / present.length;
    for (let m = 0; m < n; m++) if (cells[m] === 0) matrix[m * n + m] = 1;
    if (cholesky(matrix, n, 0, APART) === null)
      return additiveFit(
        this.#table,
        this.#panel.filter((b) => b !== assessor),
      );
    const factor = { l: matrix, n, at: 0 };
    solveLower(factor, side, 1);
    solveLowerTransposed(factor, side, 1);
    const hasMix = Array.from(cells, (count) => count > 0);
    return { mix: side.map((v, m) => (hasMix[m] ? v + level : 0)), hasMix };
  }

  #add(
    assessor: number,
    sign: 1 | -1,
    matrix: Float64Array,
    side: Float64Array,
    cells: Int32Array,
    sums: Float64Array,
  ): void {
    const { mixes, mean } = this.#table;
    const own: number[] = [];
    for (let m = 0; m < mixes; m++) if (filled(this.#table, assessor, m)) own.push(m);
    const centre = own.reduce((sum, m) => sum + mean[assessor * mixes + m]!, 0) / Math.max(1, own.length);
    for (const m of own) {
      const score = mean[assessor * mixes + m]!;
      for (const j of own) matrix[m * mixes + j]! -= sign / own.length;
      matrix[m * mixes + m]! += sign;
      side[m]! += sign * (score - centre);
      cells[m]! += sign;
      sums[m]! += sign * score;
    }
  }
}
