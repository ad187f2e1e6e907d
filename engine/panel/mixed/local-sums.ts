import type { LocalParts } from './local-parts.ts';
import type { Products } from './products.ts';
import type { Structure } from './structure.ts';
import type { Workings } from './workings.ts';

/** Sums over blocks: grams, middles, pulls, and the local parts of traces, squares and forms. */
export function sumLocals(s: Structure, products: Products, local: LocalParts, out: Workings): void {
  const count = s.factors.length;
  const { width } = out;
  for (let k = 0; k < count; k++) {
    if (s.isGlobal[k]) continue;
    out.grams[k] = new Float64Array(width * width);
    out.pulls[k] = new Float64Array(width);
    for (let l = 0; l < count; l++)
      if (!s.isGlobal[l]) out.middles[k * count + l] = new Float64Array(width * width);
  }
  const outer = outerPairs(s);
  for (let t = 0; t + 1 < products.rowStart.length; t++) sumType(s, products, local, out, outer, t);
  sumScores(s, products, local, out);
  for (let k = 0; k < count; k++) {
    copyLowerToUpper(out.grams[k]!, width);
    copyLowerToUpper(out.middles[k * count + k]!, width);
    for (let l = 0; l < count; l++) if (outer[k * count + l] && k !== l) mirror(out, k, l, count);
  }
}

/** Of every pair of local factors the one with fewer levels comes first: its rows are the cheaper to visit. */
function outerPairs(s: Structure): boolean[] {
  return s.factors.flatMap((f, k) =>
    s.factors.map((g, l) => {
      if (s.isGlobal[k] || s.isGlobal[l]) return false;
      return f.count < g.count || (f.count === g.count && k >= l);
    }),
  );
}

/** One type's share, weighted by its number of blocks. */
function sumType(
  s: Structure,
  products: Products,
  local: LocalParts,
  out: Workings,
  outer: readonly boolean[],
  type: number,
): void {
  const count = s.factors.length;
  const { width, borders } = out;
  const share = products.share[type]!;
  const start = products.rowStart[type]!;
  const n = products.rowStart[type + 1]! - start;
  const row = new Float64Array(count * width);
  for (let i = 0; i < n; i++) {
    const k = products.factorOf[start + i]!;
    const at = products.squareStart[type]! + i * n;
    const here = (start + i) * width;
    out.traces[k]! += share * local.squares[at + i]!;
    addLowerOuter(out.grams[k]!, share, borders, here, width);
    row.fill(0);
    for (let j = 0; j < n; j++) {
      const l = products.factorOf[start + j]!;
      const m = share * local.squares[at + j]!;
      if (m === 0 || !outer[k * count + l]) continue;
      out.squares[k * count + l]! += m * local.squares[at + j]!;
      for (let c = 0; c < width; c++) row[l * width + c]! += m * borders[(start + j) * width + c]!;
    }
    for (let l = 0; l < count; l++)
      if (outer[k * count + l])
        addOuter(out.middles[k * count + l]!, borders, here, row, { at: l * width, lower: k === l });
  }
}

/** out += weight · a a', lower triangle. */
function addLowerOuter(out: Float64Array, weight: number, a: Float64Array, at: number, width: number): void {
  for (let i = 0; i < width; i++) {
    const left = weight * a[at + i]!;
    if (left === 0) continue;
    for (let j = 0; j <= i; j++) out[i * width + j]! += left * a[at + j]!;
  }
}

/** out += a b', its lower triangle only where the sum over all rows is known to be symmetric. */
function addOuter(
  out: Float64Array,
  a: Float64Array,
  aAt: number,
  b: Float64Array,
  { at, lower }: { at: number; lower: boolean },
): void {
  const width = Math.sqrt(out.length);
  for (let i = 0; i < width; i++) {
    const left = a[aAt + i]!;
    const end = lower ? i + 1 : width;
    const to = i * width;
    for (let j = 0; j < end; j++) out[to + j]! += left * b[at + j]!;
  }
}

/** r'P Z_k M_kl Z_l'P r over the blocks, and U_k'Z_k'P r. */
function sumScores(s: Structure, products: Products, local: LocalParts, out: Workings): void {
  const count = s.factors.length;
  const sums = new Float64Array(products.factorOf.length);
  products.typeOf.forEach((t, b) => {
    const start = s.blockStart[b]!;
    const n = s.blockStart[b + 1]! - start;
    for (let i = 0; i < n; i++) {
      const left = out.scores[start + i]!;
      const k = s.factorAt[start + i]!;
      const at = products.squareStart[t]! + i * n;
      sums[products.rowStart[t]! + i]! += left;
      for (let j = 0; j < n; j++)
        out.forms[k * count + s.factorAt[start + j]!]! +=
          left * local.squares[at + j]! * out.scores[start + j]!;
    }
  });
  sums.forEach((v, row) => {
    const pull = out.pulls[products.factorOf[row]!]!;
    for (let c = 0; c < out.width; c++) pull[c]! += v * out.borders[row * out.width + c]!;
  });
}

function mirror(out: Workings, k: number, l: number, count: number): void {
  const { width } = out;
  const from = out.middles[k * count + l]!;
  const to = out.middles[l * count + k]!;
  for (let a = 0; a < width; a++) for (let b = 0; b < width; b++) to[b * width + a] = from[a * width + b]!;
  out.squares[l * count + k] = out.squares[k * count + l]!;
}

function copyLowerToUpper(a: Float64Array, width: number): void {
  if (a.length === 0) return;
  for (let i = 0; i < width; i++) for (let j = 0; j < i; j++) a[j * width + i] = a[i * width + j]!;
}
