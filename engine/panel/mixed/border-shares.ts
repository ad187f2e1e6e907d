import { multiply, sumOfProducts } from '../../numeric/dense.ts';
import type { Products } from './products.ts';
import type { Structure } from './structure.ts';
import type { Workings } from './workings.ts';

/** Brings the border's share into the traces, squares and forms of all factors. */
export function addBorderShares(s: Structure, products: Products, w: Workings): void {
  const count = s.factors.length;
  const traces = localTraces(s, products, w);
  const reached = w.pulls.map((pull) => (pull.length > 0 ? multiply(pull, w.inverse, w.width) : pull));
  for (let k = 0; k < count; k++)
    for (let l = 0; l <= k; l++) {
      if (s.isGlobal[k] && s.isGlobal[l]) combineGlobal(s, w, k, l);
      else if (s.isGlobal[k] || s.isGlobal[l]) combineMixed(s, w, k, l);
      else {
        const at = k * count + l;
        w.squares[at]! += traces.ofPair(k, l) - 2 * sumOfProducts(w.inverse, w.middles[at]!);
        w.forms[at]! -= sumOfProducts(reached[k]!, w.pulls[l]!);
        if (k === l) w.traces[k]! -= traces.of(k);
      }
      w.squares[l * count + k] = w.squares[k * count + l]!;
      w.forms[l * count + k] = w.forms[k * count + l]!;
    }
}

/**
 * tr(K U_k'U_k) and tr(K U_k'U_k K U_l'U_l) of the local factors. Where few types of blocks hold a factor, U has fewer rows
 * than the border is wide, and its rows are gone through instead of its gram.
 */
function localTraces(s: Structure, products: Products, w: Workings) {
  const counts = new Int32Array(s.factors.length);
  for (const k of products.factorOf) counts[k]! += 1;
  if (counts.every((count) => count <= w.width / 2)) {
    const rows = s.factors.map((_, k) => (s.isGlobal[k] ? null : weightedRows(products, w, k, counts[k]!)));
    const turned = rows.map((own) => own && multiply(own, w.inverse, w.width));
    const between = (k: number, l: number) => multiply(turned[k]!, transposed(rows[l]!, w.width), w.width);
    return {
      of: (k: number) => sumOfProducts(turned[k]!, rows[k]!),
      ofPair: (k: number, l: number) => between(k, l).reduce((sum, v) => sum + v * v, 0),
    };
  }
  const spread = w.grams.map((gram) => (gram.length > 0 ? multiply(w.inverse, gram, w.width) : gram));
  return {
    of: (k: number) => {
      let trace = 0;
      for (let i = 0; i < w.width; i++) trace += spread[k]![i * w.width + i]!;
      return trace;
    },
    ofPair: (k: number, l: number) => traceOfProduct(spread[k]!, spread[l]!, w.width),
  };
}

/** Rows of U that belong to one factor, each times the root of how many blocks share it: their gram is U'U over all blocks. */
function weightedRows(
  { rowStart, factorOf, share }: Products,
  w: Workings,
  k: number,
  count: number,
): Float64Array {
  const out = new Float64Array(count * w.width);
  let at = 0;
  for (let t = 0; t + 1 < rowStart.length; t++)
    for (let row = rowStart[t]!; row < rowStart[t + 1]!; row++) {
      if (factorOf[row] !== k) continue;
      const root = Math.sqrt(share[t]!);
      for (let c = 0; c < w.width; c++) out[at++] = root * w.borders[row * w.width + c]!;
    }
  return out;
}

function transposed(a: Float64Array, columns: number): Float64Array {
  const rows = a.length / columns;
  const out = new Float64Array(a.length);
  for (let i = 0; i < rows; i++) for (let j = 0; j < columns; j++) out[j * rows + i] = a[i * columns + j]!;
  return out;
}

function combineMixed(s: Structure, w: Workings, k: number, l: number): void {
  const [local, global] = s.isGlobal[k] ? [l, k] : [k, l];
  const at = k * s.factors.length + l;
  const columns = columnsOf(s, w, w.reach, global);
  const reached = multiply(w.grams[local]!, columns.values, w.width);
  w.squares[at] = sumOfProducts(columns.values, reached);
  const a = w.pulls[local]!;
  const along = multiply(a, columns.values, w.width);
  let form = 0;
  along.forEach((v, j) => {
    form += v * w.scores[s.locals + columns.at[j]!]!;
  });
  w.forms[at] = form;
}

/** Of a matrix of `width` rows and one column a global level, the columns of one global factor. */
export function columnsOf(s: Structure, w: Workings, matrix: Float64Array, k: number) {
  const at = Array.from(s.place[k]!, (position) => position - s.locals);
  const values = new Float64Array(w.width * at.length);
  for (let i = 0; i < w.width; i++)
    at.forEach((column, j) => {
      values[i * at.length + j] = matrix[i * s.globals + column]!;
    });
  return { at, values };
}

function combineGlobal(s: Structure, w: Workings, k: number, l: number): void {
  const at = k * s.factors.length + l;
  for (const a of s.place[k]!)
    for (const b of s.place[l]!) {
      const v = w.globalSquares[(a - s.locals) * s.globals + (b - s.locals)]!;
      w.squares[at]! += v * v;
      w.forms[at]! += v * w.scores[a]! * w.scores[b]!;
      if (a === b) w.traces[k]! += v;
    }
}

/** tr(A B). */
function traceOfProduct(a: Float64Array, b: Float64Array, n: number): number {
  let sum = 0;
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) sum += a[i * n + j]! * b[j * n + i]!;
  return sum;
}

/** The rows of a width × m matrix that belong to the levels of a global factor. */
export function rowsOf(s: Structure, w: Workings, matrix: Float64Array, k: number): Float64Array {
  const m = matrix.length / w.width;
  const out = new Float64Array(s.factors[k]!.count * m);
  s.place[k]!.forEach((position, level) => {
    const row = position - s.locals;
    out.set(matrix.subarray(row * m, row * m + m), level * m);
  });
  return out;
}
