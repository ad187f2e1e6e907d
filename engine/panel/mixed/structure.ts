import type { RandomFactor } from './problem.ts';

/**
 * Where each level of the random factors stands. Some factors are global (their levels join the border together
 * with the fixed columns); the levels of the others fall into blocks that share no row, such as one assessor with
 * the cells of that assessor. Positions 0..locals-1 are local, block by block; the global ones follow.
 */
export interface Structure {
  factors: readonly RandomFactor[];
  isGlobal: readonly boolean[];
  /** place[k][level] = position. */
  place: readonly Int32Array[];
  /** The factor that each position belongs to. */
  factorAt: Int32Array;
  locals: number;
  globals: number;
  /** First position of each block, and behind the last block `locals`. */
  blockStart: Int32Array;
  /** Offset of each block's square matrix in packed storage; the last entry is the whole length. */
  squareStart: Int32Array;
}

/** Chooses which factors are global so that a factorisation costs least; p fixed columns join the border anyway. */
export function chooseStructure(factors: readonly RandomFactor[], n: number, p: number): Structure {
  let best: { cost: number; structure: Structure } | undefined;
  for (let mask = 0; mask < 1 << factors.length; mask++) {
    const isGlobal = factors.map((_, k) => (mask & (1 << k)) !== 0);
    const structure = arrange(factors, isGlobal, n);
    const cost = costOf(structure, p);
    if (!best || cost < best.cost) best = { cost, structure };
  }
  return best!.structure;
}

function costOf({ blockStart, globals }: Structure, p: number): number {
  const border = globals + p;
  let cost = border ** 3;
  for (let b = 0; b + 1 < blockStart.length; b++) {
    const size = blockStart[b + 1]! - blockStart[b]!;
    cost += size ** 3 + size * size * border + size * border * border;
  }
  return cost;
}

function arrange(factors: readonly RandomFactor[], isGlobal: readonly boolean[], n: number): Structure {
  const offsets = offsetsOf(factors);
  const roots = componentsOf(factors, isGlobal, offsets, n);
  const { order, blockStart } = localOrder(factors, isGlobal, offsets, roots);
  const place = factors.map((f) => new Int32Array(f.count));
  const total = factors.reduce((sum, f) => sum + f.count, 0);
  const factorAt = new Int32Array(total);
  let next = 0;
  const put = (k: number, level: number) => {
    place[k]![level] = next;
    factorAt[next++] = k;
  };
  for (const [k, level] of order) put(k, level);
  const locals = next;
  factors.forEach((f, k) => {
    if (isGlobal[k]) for (let level = 0; level < f.count; level++) put(k, level);
  });
  const squareStart = squaresOf(blockStart);
  return { factors, isGlobal, place, factorAt, locals, globals: total - locals, blockStart, squareStart };
}

function offsetsOf(factors: readonly RandomFactor[]): number[] {
  let sum = 0;
  return factors.map((f) => {
    sum += f.count;
    return sum - f.count;
  });
}

/** Union of levels that meet in a row, by path halving; returns the root of each level. */
function componentsOf(
  factors: readonly RandomFactor[],
  isGlobal: readonly boolean[],
  offsets: readonly number[],
  n: number,
): Int32Array {
  const total = factors.reduce((sum, f) => sum + f.count, 0);
  const parent = Int32Array.from({ length: total }, (_, i) => i);
  const find = (start: number): number => {
    let i = start;
    while (parent[i] !== i) {
      parent[i] = parent[parent[i]!]!;
      i = parent[i]!;
    }
    return i;
  };
  const locals = factors.map((_, k) => k).filter((k) => !isGlobal[k]);
  const first = locals[0];
  if (first === undefined) return parent;
  for (const k of locals.slice(1))
    for (let i = 0; i < n; i++) {
      const a = find(offsets[first]! + factors[first]!.levels[i]!);
      const b = find(offsets[k]! + factors[k]!.levels[i]!);
      if (a !== b) parent[Math.max(a, b)] = Math.min(a, b);
    }
  return parent.map((_, i) => find(i));
}

/** Local levels block by block, blocks in the order of their first level. */
function localOrder(
  factors: readonly RandomFactor[],
  isGlobal: readonly boolean[],
  offsets: readonly number[],
  roots: Int32Array,
) {
  const blocks = new Map<number, [number, number][]>();
  factors.forEach((f, k) => {
    if (isGlobal[k]) return;
    for (let level = 0; level < f.count; level++) {
      const root = roots[offsets[k]! + level]!;
      const block = blocks.get(root) ?? [];
      block.push([k, level]);
      blocks.set(root, block);
    }
  });
  const order = [...blocks.values()].flat();
  const blockStart = new Int32Array(blocks.size + 1);
  let b = 0;
  for (const block of blocks.values()) {
    blockStart[b + 1] = blockStart[b]! + block.length;
    b++;
  }
  return { order, blockStart };
}

function squaresOf(blockStart: Int32Array): Int32Array {
  const start = new Int32Array(blockStart.length);
  for (let b = 0; b + 1 < blockStart.length; b++)
    start[b + 1] = start[b]! + (blockStart[b + 1]! - blockStart[b]!) ** 2;
  return start;
}
