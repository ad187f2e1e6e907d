import type { RandomFactor } from './problem.ts';

/**
 * Where each level of the random factors stands. Some factors are global (their levels join the border together
 * with the fixed columns); the levels of the others fall into blocks that share no row, such as one assessor with
 * the cells of that assessor. Positions 0..locals-1 are local, block by block; the global ones follow. Within a
 * block levels stand in an order that depends on what they meet, not on their numbers, so that assessors who
 * tasted the same cups have blocks of the same look.
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
  /** The data rows of each block, by kind. */
  blockRows: readonly Int32Array[];
  /** Rows of one kind have the same place within their block, the same global levels and the same fixed row. */
  kind: Int32Array;
}

/** Arrangements looked at closely: those whose cost would be least if no two blocks were alike. */
const CLOSE_LOOKS = 3;

/**
 * Chooses which factors are global so that a factorisation costs least.
 *
 * @param fixedRow of each data row, the number of its distinct row of fixed columns
 * @param p fixed columns, which join the border anyway
 */
export function chooseStructure(
  factors: readonly RandomFactor[],
  fixedRow: Int32Array,
  p: number,
): Structure {
  const choices = Array.from({ length: 1 << factors.length }, (_, mask) => {
    const isGlobal = factors.map((_, k) => (mask & (1 << k)) !== 0);
    const levels = levelsOf(factors, isGlobal, fixedRow.length);
    return { isGlobal, levels, cost: costOf(levels.sizes, levels.globals + p) };
  });
  const arranged = choices
    .sort((a, b) => a.cost - b.cost)
    .slice(0, CLOSE_LOOKS)
    .map(({ isGlobal, levels }) => {
      const structure = arrange(factors, isGlobal, levels, fixedRow);
      return { structure, cost: typedCost(structure, p) };
    });
  return arranged.reduce((best, next) => (next.cost < best.cost ? next : best)).structure;
}

/** Blocks with the same rows share their factors; only their scores are worked through one by one. */
function typedCost(s: Structure, p: number): number {
  const { typeOf, members } = sortIntoTypes(s);
  const sizeOf = (block: number) => s.blockStart[block + 1]! - s.blockStart[block]!;
  const scores = typeOf.reduce((sum, _, block) => sum + sizeOf(block) ** 2, 0);
  return (
    scores +
    costOf(
      members.map((m) => sizeOf(m.block)),
      s.globals + p,
    )
  );
}

function costOf(sizes: readonly number[], border: number): number {
  return sizes.reduce((sum, q) => sum + q ** 3 + q * q * border + q * border * border, border ** 3);
}

/** Blocks whose rows (those kept) are of the same kinds, in the same number, are of one type. */
export function sortIntoTypes(s: Structure, keep?: ArrayLike<unknown>) {
  const known = new Map<string, number>();
  const members: { block: number; rows: Int32Array; count: number }[] = [];
  const typeOf = Int32Array.from(s.blockRows, (all, block) => {
    const rows = keep ? all.filter((i) => keep[i]) : all;
    const size = s.blockStart[block + 1]! - s.blockStart[block]!;
    const look = `${size}:${rows.map((i) => s.kind[i]!).join()}`;
    const type = known.get(look) ?? known.size;
    if (type === known.size) {
      known.set(look, type);
      members.push({ block, rows, count: 0 });
    }
    members[type]!.count++;
    return type;
  });
  return { typeOf, members };
}

interface Levels {
  /** Block of each local level, by offset[k] + level; -1 for global ones. */
  block: Int32Array;
  offset: number[];
  sizes: number[];
  globals: number;
}

/** Blocks are the connected sets of local levels that meet in rows, numbered by their first level. */
function levelsOf(factors: readonly RandomFactor[], isGlobal: readonly boolean[], n: number): Levels {
  let total = 0;
  const offset = factors.map((f) => {
    total += f.count;
    return total - f.count;
  });
  const root = unite(factors, isGlobal, offset, n);
  const block = new Int32Array(total).fill(-1);
  const numbered = new Map<number, number>();
  const sizes: number[] = [];
  let globals = 0;
  factors.forEach((f, k) => {
    if (isGlobal[k]) globals += f.count;
    else
      for (let at = offset[k]!; at < offset[k]! + f.count; at++) {
        const number = numbered.get(root(at)) ?? numbered.size;
        numbered.set(root(at), number);
        block[at] = number;
        sizes[number] = (sizes[number] ?? 0) + 1;
      }
  });
  return { block, offset, sizes, globals };
}

/** Union of local levels that meet in a row, by path halving; answers with the root of a level. */
function unite(
  factors: readonly RandomFactor[],
  isGlobal: readonly boolean[],
  offset: readonly number[],
  n: number,
): (level: number) => number {
  const total = factors.reduce((sum, f) => sum + f.count, 0);
  const parent = Int32Array.from({ length: total }, (_, i) => i);
  const root = (start: number): number => {
    let i = start;
    while (parent[i] !== i) {
      parent[i] = parent[parent[i]!]!;
      i = parent[i]!;
    }
    return i;
  };
  const [first, ...others] = factors.map((_, k) => k).filter((k) => !isGlobal[k]);
  for (const k of others)
    for (let i = 0; i < n; i++) {
      const a = root(offset[first!]! + factors[first!]!.levels[i]!);
      const b = root(offset[k]! + factors[k]!.levels[i]!);
      if (a !== b) parent[Math.max(a, b)] = Math.min(a, b);
    }
  return root;
}

function arrange(
  factors: readonly RandomFactor[],
  isGlobal: readonly boolean[],
  levels: Levels,
  fixedRow: Int32Array,
): Structure {
  const place = factors.map((f) => new Int32Array(f.count));
  const factorAt = new Int32Array(levels.block.length);
  const order = orderOf(factors, levels, fixedRow);
  order.forEach(({ k, level }, position) => {
    place[k]![level] = position;
    factorAt[position] = k;
  });
  const locals = levels.block.length - levels.globals;
  const blockStart = new Int32Array(Math.max(1, levels.sizes.length) + 1);
  levels.sizes.forEach((size, b) => {
    blockStart[b + 1] = blockStart[b]! + size;
  });
  const start = (i: number) => blockOfRow(factors, isGlobal, levels, i);
  const kind = kindsOf(factors, isGlobal, place, fixedRow, (i) => blockStart[start(i)]!);
  const blockRows = rowsByBlock(kind, blockStart.length - 1, start);
  return { factors, isGlobal, place, factorAt, locals, globals: levels.globals, blockStart, blockRows, kind };
}

/** Local levels block by block, the larger factors first (they are the sparser), then by what they meet first. */
function orderOf(factors: readonly RandomFactor[], levels: Levels, fixedRow: Int32Array) {
  const order = factors.flatMap((f, k) => {
    const meets = new Float64Array(f.count).fill(Number.POSITIVE_INFINITY);
    f.levels.forEach((level, i) => {
      meets[level] = Math.min(meets[level]!, fixedRow[i]!);
    });
    const rank = factors.filter((g) => g.count > f.count).length + k / factors.length;
    return Array.from({ length: f.count }, (_, level) => {
      const block = levels.block[levels.offset[k]! + level]!;
      return { k, level, rank, meets: meets[level]!, block: block < 0 ? Number.POSITIVE_INFINITY : block };
    });
  });
  const compare = (a: number, b: number) => (a === b ? 0 : a - b);
  return order.sort(
    (a, b) => compare(a.block, b.block) || a.rank - b.rank || compare(a.meets, b.meets) || a.level - b.level,
  );
}

/** The block of a data row; without local factors all rows make one block. */
function blockOfRow(
  factors: readonly RandomFactor[],
  isGlobal: readonly boolean[],
  levels: Levels,
  row: number,
): number {
  const k = isGlobal.indexOf(false);
  return k < 0 ? 0 : levels.block[levels.offset[k]! + factors[k]!.levels[row]!]!;
}

function kindsOf(
  factors: readonly RandomFactor[],
  isGlobal: readonly boolean[],
  place: readonly Int32Array[],
  fixedRow: Int32Array,
  startOf: (row: number) => number,
): Int32Array {
  const known = new Map<string, number>();
  return fixedRow.map((fixed, i) => {
    const start = startOf(i);
    let look = `${fixed}`;
    factors.forEach((f, k) => {
      look += `,${place[k]![f.levels[i]!]! - (isGlobal[k] ? 0 : start)}`;
    });
    const number = known.get(look) ?? known.size;
    known.set(look, number);
    return number;
  });
}

function rowsByBlock(kind: Int32Array, blocks: number, blockOf: (row: number) => number): Int32Array[] {
  const rows = Array.from({ length: blocks }, () => [] as number[]);
  kind.forEach((_, i) => {
    rows[blockOf(i)]!.push(i);
  });
  return rows.map((list) => Int32Array.from(list.sort((a, b) => kind[a]! - kind[b]!)));
}
