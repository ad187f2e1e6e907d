import type { Structure } from './structure.ts';

/**
 * Everything that the restricted likelihood needs to know about Z and the orthonormal fixed columns Q: sums over
 * rows, gathered once. With border columns [Z_G Q] (global levels, then fixed columns; `width` of them):
 */
export interface Products {
  rows: number;
  width: number;
  /** Z'Z of each block of local levels, packed. */
  squares: Float64Array;
  /** locals × width: Z_L'[Z_G Q]. */
  borders: Float64Array;
  /** width × width: [Z_G Q]'[Z_G Q]. */
  corner: Float64Array;
}

/** The same for one set of scores, already cleared of the fixed columns. */
export interface ScoreProducts {
  /** Z_L'r. */
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
  const n = q.length / p;
  const width = s.globals + p;
  const out: Products = {
    rows: 0,
    width,
    squares: new Float64Array(s.squareStart.at(-1)!),
    borders: new Float64Array(s.locals * width),
    corner: new Float64Array(width * width),
  };
  const blockAt = blocksOf(s);
  const places = { locals: [] as number[], globals: [] as number[] };
  for (let i = 0; i < n; i++) {
    if (keep && !keep[i]) continue;
    out.rows++;
    placesOf(s, i, places);
    addLocals(s, out, places, blockAt, q.subarray(i * p, i * p + p));
    addCorner(s, out, places.globals, q.subarray(i * p, i * p + p));
  }
  for (let a = 0; a < width; a++)
    for (let b = 0; b < a; b++) out.corner[b * width + a] = out.corner[a * width + b]!;
  return out;
}

function blocksOf(s: Structure): Int32Array {
  const blockAt = new Int32Array(s.locals);
  for (let b = 0; b + 1 < s.blockStart.length; b++) blockAt.fill(b, s.blockStart[b], s.blockStart[b + 1]);
  return blockAt;
}

function placesOf(s: Structure, row: number, into: { locals: number[]; globals: number[] }): void {
  into.locals.length = 0;
  into.globals.length = 0;
  s.factors.forEach((f, k) => {
    const position = s.place[k]![f.levels[row]!]!;
    if (s.isGlobal[k]) into.globals.push(position - s.locals);
    else into.locals.push(position);
  });
}

function addLocals(
  s: Structure,
  out: Products,
  places: { locals: number[]; globals: number[] },
  blockAt: Int32Array,
  row: Float64Array,
): void {
  for (const a of places.locals) {
    const block = blockAt[a]!;
    const start = s.blockStart[block]!;
    const size = s.blockStart[block + 1]! - start;
    for (const b of places.locals)
      out.squares[s.squareStart[block]! + (a - start) * size + (b - start)]! += 1;
    const at = a * out.width;
    for (const g of places.globals) out.borders[at + g]! += 1;
    for (let j = 0; j < row.length; j++) out.borders[at + s.globals + j]! += row[j]!;
  }
}

/** Lower triangle of the corner. */
function addCorner(s: Structure, out: Products, globals: readonly number[], row: Float64Array): void {
  for (const a of globals) for (const b of globals) if (b <= a) out.corner[a * out.width + b]! += 1;
  for (let j = 0; j < row.length; j++) {
    const at = (s.globals + j) * out.width;
    for (const g of globals) out.corner[at + g]! += row[j]!;
    for (let l = 0; l <= j; l++) out.corner[at + s.globals + l]! += row[j]! * row[l]!;
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
