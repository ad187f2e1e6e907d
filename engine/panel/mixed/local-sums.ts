import type { LocalParts } from './local-parts.ts';
import type { Structure } from './structure.ts';
import type { Workings } from './workings.ts';

/** Sums over blocks: grams, middles, and the local parts of traces, squares and forms. */
export function sumLocals(s: Structure, local: LocalParts, out: Workings): void {
  const count = s.factors.length;
  const { width } = out;
  s.factors.forEach((_, k) => {
    if (s.isGlobal[k]) return;
    out.grams[k] = new Float64Array(width * width);
    for (let l = 0; l < count; l++)
      if (!s.isGlobal[l]) out.middles[k * count + l] = new Float64Array(width * width);
  });
  for (let b = 0; b + 1 < s.blockStart.length; b++) sumBlock(s, local, out, b);
  for (let k = 0; k < count; k++) {
    symmetricFromLower(out.grams[k]!, width);
    for (let l = 0; l < k; l++) mirror(out, k, l, count);
  }
}

function mirror(out: Workings, k: number, l: number, count: number): void {
  const { width } = out;
  const from = out.middles[k * count + l]!;
  const to = out.middles[l * count + k]!;
  if (from.length > 0)
    for (let a = 0; a < width; a++) for (let b = 0; b < width; b++) to[b * width + a] = from[a * width + b]!;
  out.squares[l * count + k] = out.squares[k * count + l]!;
  out.forms[l * count + k] = out.forms[k * count + l]!;
}

function symmetricFromLower(a: Float64Array, n: number): void {
  if (a.length === 0) return;
  for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) a[j * n + i] = a[i * n + j]!;
}

/** One block's share; factors k ≥ l only, the rest by symmetry. */
function sumBlock(s: Structure, local: LocalParts, out: Workings, block: number): void {
  const count = s.factors.length;
  const { width } = out;
  const start = s.blockStart[block]!;
  const n = s.blockStart[block + 1]! - start;
  const at = s.squareStart[block]!;
  const row = new Float64Array(count * width);
  for (let i = 0; i < n; i++) {
    const k = s.factorAt[start + i]!;
    const rowAt = at + i * n;
    out.traces[k]! += local.squares[rowAt + i]!;
    addOuter(out.grams[k]!, out.borders, (start + i) * width, out.borders, (start + i) * width, width, true);
    row.fill(0, 0, (k + 1) * width);
    for (let j = 0; j < n; j++) {
      const l = s.factorAt[start + j]!;
      const m = local.squares[rowAt + j]!;
      if (l > k || m === 0) continue;
      out.squares[k * count + l]! += m * m;
      out.forms[k * count + l]! += m * out.scores[start + i]! * out.scores[start + j]!;
      const from = (start + j) * width;
      for (let c = 0; c < width; c++) row[l * width + c]! += m * out.borders[from + c]!;
    }
    for (let l = 0; l <= k; l++)
      if (!s.isGlobal[l])
        addOuter(out.middles[k * count + l]!, out.borders, (start + i) * width, row, l * width, width, false);
  }
}

/** out += a b' (lower triangle only where `lower`). */
function addOuter(
  out: Float64Array,
  a: Float64Array,
  aAt: number,
  b: Float64Array,
  bAt: number,
  width: number,
  lower: boolean,
): void {
  for (let i = 0; i < width; i++) {
    const left = a[aAt + i]!;
    if (left === 0) continue;
    const end = lower ? i + 1 : width;
    for (let j = 0; j < end; j++) out[i * width + j]! += left * b[bAt + j]!;
  }
}
