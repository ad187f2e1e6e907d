import { type Structure, sortIntoTypes } from './structure.ts';

/**
 * Everything that the restricted likelihood needs to know about Z and the orthonormal fixed columns Q: sums over
 * rows, gathered once. Blocks with the same rows are of one type and gathered once. Border columns are [Z_G Q]
 * (global levels, then fixed columns; `width` of them). "Type rows" number the levels of the types one after the
 * other.
 */
export interface Products {
  width: number;
  /** The type of each block. */
  typeOf: Int32Array;
  /** First type row of each type, and behind the last the number of type rows. */
  rowStart: Int32Array;
  /** Offset of each type's square matrix in packed storage; the last entry is the whole length. */
  squareStart: Int32Array;
  /** How many blocks are of each type. */
  share: Float64Array;
  /** The factor of each type row. */
  factorOf: Int32Array;
  /** The type row of each local position. */
  typeRow: Int32Array;
  /** Z'Z of each type, packed. */
  squares: Float64Array;
  /** Type rows × width: Z_L'[Z_G Q]. */
  borders: Float64Array;
  /** width × width: [Z_G Q]'[Z_G Q]. */
  corner: Float64Array;
}

/** The same for one set of scores, already cleared of the fixed columns. */
export interface ScoreProducts {
  /** Z_L'r by position. */
  locals: Float64Array;
  /** [Z_G Q]'r. */
  border: Float64Array;
  /** r'r. */
  square: number;
}

/** Gathers the products over the rows that `keep` marks (all where absent). `q` is n × p, row by row. */
export function gatherProducts(
  s: Structure,
  q: Float64Array,
  p: number,
  keep?: ArrayLike<unknown>,
): Products {
  const width = s.globals + p;
  const { typeOf, members } = sortIntoTypes(s, keep);
  const sizes = members.map((m) => s.blockStart[m.block + 1]! - s.blockStart[m.block]!);
  const rowStart = runningSum(sizes);
  const squareStart = runningSum(sizes.map((size) => size * size));
  const out: Products = {
    width,
    typeOf,
    rowStart,
    squareStart,
    share: Float64Array.from(members, (m) => m.count),
    factorOf: new Int32Array(rowStart.at(-1)!),
    typeRow: new Int32Array(s.locals),
    squares: new Float64Array(squareStart.at(-1)!),
    borders: new Float64Array(rowStart.at(-1)! * width),
    corner: new Float64Array(width * width),
  };
  members.forEach(({ block, rows }, type) => {
    const start = s.blockStart[block]!;
    out.factorOf.set(s.factorAt.subarray(start, s.blockStart[block + 1]!), rowStart[type]);
    for (const i of rows) addRow(s, out, type, start, i, q.subarray(i * p, i * p + p));
  });
  typeOf.forEach((t, b) => {
    const start = s.blockStart[b]!;
    for (let i = start; i < s.blockStart[b + 1]!; i++) out.typeRow[i] = rowStart[t]! + i - start;
  });
  for (let a = 0; a < width; a++)
    for (let b = 0; b < a; b++) out.corner[b * width + a] = out.corner[a * width + b]!;
  return out;
}

function runningSum(sizes: readonly number[]): Int32Array {
  const out = new Int32Array(sizes.length + 1);
  sizes.forEach((size, i) => {
    out[i + 1] = out[i]! + size;
  });
  return out;
}

/** Adds one data row of a type's first block; `start` is that block's first position. */
function addRow(
  s: Structure,
  out: Products,
  type: number,
  start: number,
  i: number,
  fixed: Float64Array,
): void {
  const at = (k: number) => s.place[k]![s.factors[k]!.levels[i]!]!;
  const size = out.rowStart[type + 1]! - out.rowStart[type]!;
  const border = new Float64Array(out.width);
  border.set(fixed, s.globals);
  s.factors.forEach((_, k) => {
    if (s.isGlobal[k]) border[at(k) - s.locals] = 1;
  });
  s.factors.forEach((_, k) => {
    if (s.isGlobal[k]) return;
    const row = at(k) - start;
    s.factors.forEach((_, l) => {
      if (!s.isGlobal[l]) out.squares[out.squareStart[type]! + row * size + at(l) - start]! += 1;
    });
    const to = (out.rowStart[type]! + row) * out.width;
    for (let c = 0; c < out.width; c++) out.borders[to + c]! += border[c]!;
  });
  for (let a = 0; a < out.width; a++) {
    const left = out.share[type]! * border[a]!;
    if (left !== 0) for (let b = 0; b <= a; b++) out.corner[a * out.width + b]! += left * border[b]!;
  }
}

/** Gathers the products of the scores `r` over the rows that `keep` marks. */
export function gatherScores(
  s: Structure,
  q: Float64Array,
  r: Float64Array,
  keep?: ArrayLike<unknown>,
): ScoreProducts {
  const p = q.length / r.length;
  const out = { locals: new Float64Array(s.locals), border: new Float64Array(s.globals + p), square: 0 };
  s.factors.forEach((f, k) => {
    const [target, shift] = s.isGlobal[k] ? [out.border, s.locals] : [out.locals, 0];
    for (let i = 0; i < r.length; i++)
      if (!keep || keep[i]) target[s.place[k]![f.levels[i]!]! - shift]! += r[i]!;
  });
  for (let i = 0; i < r.length; i++) {
    if (keep && !keep[i]) continue;
    out.square += r[i]! * r[i]!;
    for (let j = 0; j < p; j++) out.border[s.globals + j]! += q[i * p + j]! * r[i]!;
  }
  return out;
}
