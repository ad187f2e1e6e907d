import { EngineError } from '../../errors.ts';
import { cholesky } from '../../numeric/dense.ts';
import { type OrthogonalFactors, orthogonalFactors } from '../../numeric/orthogonal.ts';
import { completeWorkings } from './complete-workings.ts';
import type { RandomFactor } from './problem.ts';
import { gatherProducts, gatherScores, type Products } from './products.ts';
import { reduceAt } from './reduction.ts';
import { chooseStructure, type Structure } from './structure.ts';

/** A column closer than this (relative to its length) to the span of the columns before it is dependent. */
export const DEPENDENT = 1e-10;

/** What a design of fixed columns and random factors fixes before any score is seen; shared by all scores on it. */
export interface PreparedMixed {
  n: number;
  p: number;
  names: readonly string[];
  fixed: Float64Array;
  random: readonly RandomFactor[];
  orthogonal: OrthogonalFactors;
  /** Of the identified factors only. */
  structure: Structure;
  products: Products;
  unidentified: { name: string; reason: string }[];
}

/**
 * Prepares a design for fitting: orthogonal factors of the fixed columns, the blocks of the random factors and
 * all sums over rows that do not depend on the scores.
 *
 * @param fixed n × p, row by row, of full column rank (else an error names the first dependent column)
 * @param names of the p columns
 * @param random factors; one that the data cannot tell from the fixed part, the residual or an earlier factor is
 *   set aside in `unidentified`
 */
export function prepareMixed(
  fixed: Float64Array,
  names: readonly string[],
  random: readonly RandomFactor[],
): PreparedMixed {
  const p = names.length;
  const n = p > 0 ? fixed.length / p : 0;
  checkShapes(fixed, names, random);
  const orthogonal = orthogonalFactors(fixed, n, p);
  for (let j = 0; j < p; j++)
    if (!(orthogonal.distance[j]! > DEPENDENT))
      throw new EngineError(
        'bad-argument',
        `fixed[${names[j]}]`,
        'a column that depends on others',
        'full column rank',
      );
  const fixedRow = distinctRows(fixed, orthogonal);
  const { identified, unidentified } = tellApart(orthogonal, fixedRow, random);
  const structure = chooseStructure(identified, fixedRow, p);
  const products = gatherProducts(structure, orthogonal.q, p);
  return { n, p, names, fixed, random, orthogonal, structure, products, unidentified };
}

function checkShapes(fixed: Float64Array, names: readonly string[], random: readonly RandomFactor[]): void {
  const n = fixed.length / names.length;
  if (names.length === 0 || !Number.isInteger(n) || n < names.length)
    throw new EngineError('bad-argument', 'fixed', `${fixed.length} entries`, 'n × p with n ≥ p ≥ 1');
  if (!fixed.every(Number.isFinite))
    throw new EngineError('bad-argument', 'fixed', Number.NaN, 'finite numbers');
  for (const { name, levels, count } of random)
    if (levels.length !== n || !levels.every((l) => l >= 0 && l < count))
      throw new EngineError(
        'bad-argument',
        `random[${name}].levels`,
        levels.length,
        `${n} levels in 0..${count - 1}`,
      );
}

/**
 * Numbers the distinct rows of the fixed columns and gives equal rows the very same row of Q, so that blocks with
 * the same rows have the same sums to the last bit.
 */
function distinctRows(fixed: Float64Array, { q, n, p }: OrthogonalFactors): Int32Array {
  const first: number[] = [];
  const byHash = new Map<number, number[]>();
  const out = new Int32Array(n);
  const bits = new Uint32Array(fixed.buffer, fixed.byteOffset, 2 * fixed.length);
  const same = (i: number, j: number) => {
    for (let c = 0; c < p; c++) if (fixed[i * p + c] !== fixed[j * p + c]) return false;
    return true;
  };
  for (let i = 0; i < n; i++) {
    let hash = 17;
    for (let c = 2 * i * p; c < 2 * (i + 1) * p; c++) hash = Math.imul(hash, 31) ^ bits[c]!;
    const candidates = byHash.get(hash) ?? [];
    byHash.set(hash, candidates);
    const known = candidates.find((id) => same(first[id]!, i));
    out[i] = known ?? first.length;
    if (known === undefined) {
      candidates.push(first.length);
      first.push(i);
    } else q.copyWithin(i * p, first[known]! * p, (first[known]! + 1) * p);
  }
  return out;
}

/**
 * Variances are told apart when the matrices P Z_k Z_k'P and P of an ordinary least squares fit are linearly
 * independent; their inner products are tr(Z_k'P Z_k Z_l'P Z_l). Dependent factors are set aside, first come
 * first kept.
 */
function tellApart({ q, n, p }: OrthogonalFactors, fixedRow: Int32Array, random: readonly RandomFactor[]) {
  const unidentified: { name: string; reason: string }[] = [];
  if (random.length === 0 || n === p) return { identified: n === p ? [] : random, unidentified };
  const structure = chooseStructure(random, fixedRow, p);
  const products = gatherProducts(structure, q, p);
  const scores = gatherScores(structure, q, new Float64Array(n));
  const reduction = reduceAt(structure, products, scores, new Float64Array(random.length))!;
  const w = completeWorkings(structure, products, scores, reduction);
  const gram = (a: number, b: number): number => {
    if (a < 0 && b < 0) return n - p;
    if (a < 0) return w.traces[b]!;
    return b < 0 ? w.traces[a]! : w.squares[a * random.length + b]!;
  };
  const kept = [-1];
  random.forEach(({ name }, k) => {
    if (w.traces[k]! <= DEPENDENT * n)
      unidentified.push({ name, reason: 'the fixed columns tell its levels apart' });
    else if (isIndependent([...kept, k], gram)) kept.push(k);
    else
      unidentified.push({ name, reason: 'it cannot be told from the residual and the other random factors' });
  });
  return { identified: random.filter((_, k) => kept.includes(k)), unidentified };
}

function isIndependent(members: readonly number[], gram: (a: number, b: number) => number): boolean {
  const m = members.length;
  const scaled = new Float64Array(m * m);
  for (let i = 0; i < m; i++)
    for (let j = 0; j < m; j++) {
      const [a, b] = [members[i]!, members[j]!];
      scaled[i * m + j] = gram(a, b) / Math.sqrt(gram(a, a) * gram(b, b));
    }
  return cholesky(scaled, m, 0, 1e-9) !== null;
}
