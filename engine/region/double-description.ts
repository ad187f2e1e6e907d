/** Extreme rays of {z : rows·z ≥ 0}, each with the rows on which it lies and its neighbours along edges. */
export interface Cone {
  rays: Float64Array[];
  /** Bit sets over the rows, `words` entries a ray. */
  tight: Uint32Array[];
  edges: [number, number][];
  work: number;
}

export interface ConeLimits {
  /** Counted comparisons of two rays, and tests of a third against them, before giving up. */
  work: number;
  /** Most rays held at any time. */
  rays: number;
}

/** Heights below this count as zero; rows and rays are brought to unit size first. */
const ZERO = 1e-10;

interface State extends Cone {
  n: number;
  words: number;
  rows: readonly Float64Array[];
  left: number[];
}

/**
 * Double description in homogeneous coordinates (Motzkin, Raiffa, Thompson and Thrall 1953; Fukuda and Prodon
 * 1996) that carries the edges along: a further row cuts off the rays below it and puts a new ray on each edge
 * that it crosses; only rays on the row itself have to be compared for new edges. Two rays share an edge if they
 * have n - 2 rows in common and one of them lies on no more than n - 1 rows; else if no third ray lies on all the
 * rows they share. The next row is always the one that leaves the fewest rays.
 *
 * @param rows at least n of them independent, the cone they bound pointed. @returns null past the limits.
 */
export function extremeRays(rows: readonly Float64Array[], limits: ConeLimits): Cone | null {
  const state = startingCone(rows);
  while (state.left.length > 0) {
    const next = nextRow(state);
    state.left.splice(state.left.indexOf(next), 1);
    if (!cut(state, next, limits)) return null;
  }
  return state;
}

/** The cone of n independent rows: its rays are the columns of their inverse, all adjacent. */
function startingCone(rows: readonly Float64Array[]): State {
  const n = rows[0]!.length;
  const words = Math.ceil(rows.length / 32);
  const first = independentRows(rows, n);
  const rays = columnsOfInverse(first.map((r) => rows[r]!)).map(unitSize);
  const tight = first.map((own) => {
    const bits = new Uint32Array(words);
    for (const r of first) if (r !== own) setBit(bits, r);
    return bits;
  });
  const edges: [number, number][] = [];
  for (let a = 0; a < n; a++) for (let b = a + 1; b < n; b++) edges.push([a, b]);
  const left = rows.map((_, r) => r).filter((r) => !first.includes(r));
  return { n, words, rows, rays, tight, edges, left, work: 0 };
}

function nextRow(state: State): number {
  let best = state.left[0]!;
  let fewest = Number.POSITIVE_INFINITY;
  for (const r of state.left) {
    const count = raysAfter(state, r);
    if (count < fewest) {
      fewest = count;
      best = r;
    }
  }
  return best;
}

function raysAfter({ rows, rays, edges }: State, r: number): number {
  const side = sidesOf(rows[r]!, rays);
  let count = 0;
  for (const s of side) if (s >= 0) count++;
  for (const [a, b] of edges) if (side[a]! * side[b]! < 0) count++;
  return count;
}

function sidesOf(row: Float64Array, rays: readonly Float64Array[]): Int8Array {
  return Int8Array.from(rays, (ray) => {
    const h = height(row, ray);
    return h > ZERO ? 1 : h < -ZERO ? -1 : 0;
  });
}

/** Cuts the cone by a row; false where that would exceed the limits. */
function cut(state: State, r: number, limits: ConeLimits): boolean {
  const row = state.rows[r]!;
  const side = sidesOf(row, state.rays);
  side.forEach((s, v) => {
    if (s === 0) setBit(state.tight[v]!, r);
  });
  if (!side.includes(-1)) return true;
  const kept = keepAbove(state, side);
  for (const [a, b] of state.edges)
    if (side[a]! * side[b]! < 0) {
      const [above, below] = side[a]! > 0 ? [a, b] : [b, a];
      kept.edges.push([kept.place[above]!, kept.rays.length]);
      kept.onRow.push(kept.rays.length);
      kept.rays.push(crossing(row, state.rays[above]!, state.rays[below]!));
      kept.tight.push(shared(state.tight[above]!, state.tight[below]!, r));
    }
  Object.assign(state, { rays: kept.rays, tight: kept.tight, edges: kept.edges });
  if (kept.rays.length > limits.rays) return false;
  return joinOnRow(state, kept.onRow, kept.oldOnRow, limits.work);
}

function keepAbove(state: State, side: Int8Array) {
  const place = new Int32Array(side.length).fill(-1);
  const rays: Float64Array[] = [];
  const tight: Uint32Array[] = [];
  const onRow: number[] = [];
  side.forEach((s, v) => {
    if (s < 0) return;
    place[v] = rays.length;
    if (s === 0) onRow.push(rays.length);
    rays.push(state.rays[v]!);
    tight.push(state.tight[v]!);
  });
  const edges: [number, number][] = [];
  const oldOnRow = new Set<number>();
  for (const [a, b] of state.edges) {
    if (side[a]! < 0 || side[b]! < 0) continue;
    edges.push([place[a]!, place[b]!]);
    if (side[a] === 0 && side[b] === 0) oldOnRow.add(pairKey(place[a]!, place[b]!));
  }
  return { place, rays, tight, edges, onRow, oldOnRow };
}

/** Finds the edges between rays on the row just cut. */
function joinOnRow(state: State, onRow: readonly number[], known: Set<number>, most: number): boolean {
  const { tight, n, edges } = state;
  const counts = onRow.map((v) => countBits(tight[v]!));
  for (let i = 0; i < onRow.length; i++) {
    state.work += onRow.length - i;
    if (state.work > most) return false;
    for (let j = i + 1; j < onRow.length; j++) {
      const a = onRow[i]!;
      const b = onRow[j]!;
      if (sharedCount(tight[a]!, tight[b]!) < n - 2 || known.has(pairKey(a, b))) continue;
      const simple = counts[i] === n - 1 || counts[j] === n - 1;
      if (simple || !thirdBetween(state, onRow, a, b)) edges.push([a, b]);
    }
  }
  return true;
}

function thirdBetween(state: State, onRow: readonly number[], a: number, b: number): boolean {
  const both = state.tight[a]!.map((word, w) => word & state.tight[b]![w]!);
  state.work += onRow.length;
  for (const c of onRow) {
    if (c === a || c === b) continue;
    const bits = state.tight[c]!;
    let covers = true;
    for (let w = 0; w < both.length && covers; w++) covers = (both[w]! & ~bits[w]!) === 0;
    if (covers) return true;
  }
  return false;
}

function crossing(row: Float64Array, above: Float64Array, below: Float64Array): Float64Array {
  const up = height(row, above);
  const down = -height(row, below);
  return unitSize(above.map((v, k) => down * v + up * below[k]!));
}

function height(row: Float64Array, ray: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < row.length; k++) sum += row[k]! * ray[k]!;
  return sum;
}

function unitSize(ray: Float64Array): Float64Array {
  let largest = 0;
  for (const v of ray) largest = Math.max(largest, Math.abs(v));
  return ray.map((v) => v / largest);
}

function setBit(bits: Uint32Array, bit: number): void {
  bits[bit >>> 5] = bits[bit >>> 5]! | (1 << (bit & 31));
}

function shared(a: Uint32Array, b: Uint32Array, also: number): Uint32Array {
  const bits = a.map((word, w) => word & b[w]!);
  setBit(bits, also);
  return bits;
}

function sharedCount(a: Uint32Array, b: Uint32Array): number {
  let count = 0;
  for (let w = 0; w < a.length; w++) count += popCount(a[w]! & b[w]!);
  return count;
}

function countBits(bits: Uint32Array): number {
  return sharedCount(bits, bits);
}

function popCount(word: number): number {
  let x = word - ((word >>> 1) & 0x55555555);
  x = (x & 0x33333333) + ((x >>> 2) & 0x33333333);
  return Math.imul((x + (x >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
}

function pairKey(a: number, b: number): number {
  return Math.min(a, b) * 2 ** 26 + Math.max(a, b);
}

/** n rows that are as independent as a greedy choice finds. */
function independentRows(rows: readonly Float64Array[], n: number): number[] {
  const rest = rows.map((row) => Float64Array.from(row));
  const chosen: number[] = [];
  while (chosen.length < n) {
    let best = -1;
    let longest = 0;
    rest.forEach((row, r) => {
      const length = height(row, row);
      if (length > longest && !chosen.includes(r)) {
        longest = length;
        best = r;
      }
    });
    const unit = rest[best]!.map((v) => v / Math.sqrt(longest));
    chosen.push(best);
    for (const row of rest) {
      const along = height(unit, row);
      for (let k = 0; k < n; k++) row[k] = row[k]! - along * unit[k]!;
    }
  }
  return chosen;
}

/** Columns of the inverse of a square matrix, by elimination with full row pivoting. */
function columnsOfInverse(rows: readonly Float64Array[]): Float64Array[] {
  const n = rows.length;
  const a = rows.map((row, i) => {
    const wide = new Float64Array(2 * n);
    wide.set(row);
    wide[n + i] = 1;
    return wide;
  });
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(a[i]![k]!) > Math.abs(a[pivot]![k]!)) pivot = i;
    [a[k], a[pivot]] = [a[pivot]!, a[k]!];
    const head = a[k]![k]!;
    a[k] = a[k]!.map((v) => v / head);
    for (let i = 0; i < n; i++) {
      const factor = a[i]![k]!;
      if (i === k || factor === 0) continue;
      for (let c = k; c < 2 * n; c++) a[i]![c] = a[i]![c]! - factor * a[k]![c]!;
    }
  }
  return Array.from({ length: n }, (_, c) => Float64Array.from({ length: n }, (_, i) => a[i]![n + c]!));
}
