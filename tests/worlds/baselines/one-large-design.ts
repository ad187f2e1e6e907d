import type { NamedStream } from '../../../trials/demo/named-stream.ts';
import { type Evidence, type Method, plainMeans, type Recipe } from './baseline.ts';
import { candidateRecipes } from './candidates.ts';
import { meanSquare, plainTargets } from './plain-aim.ts';
import { indexOfLeast } from './scaled-inputs.ts';
import { backward, cholesky, dot, forward } from './surrogate.ts';

const CANDIDATES = 300;
const STARTS = 2;

/** One determinant-optimal design for Scheffé's quadratic, made at once; then its least squares fit decides. */
export const oneLargeDesign: Method = {
  name: 'one large design',
  whole: true,
  propose(evidence, count, stream) {
    const candidates = candidateRecipes(evidence, CANDIDATES, stream);
    const rows = candidates.map((recipe) => quadraticTerms(evidence, recipe));
    const designs = Array.from({ length: STARTS }, () => exchange(rows, count, stream));
    const best = designs.sort((a, b) => b.logDeterminant - a.logDeterminant)[0]!;
    return best.chosen.map((i) => candidates[i]!);
  },
  recommend(evidence, stream) {
    const candidates = candidateRecipes(evidence, 7 * CANDIDATES, stream);
    const targets = plainTargets(evidence);
    const fitted = targets.map(({ attribute }) => leastSquares(evidence, attribute));
    const inTurn = targets.map((target, t) => ({ ...target, attribute: t }));
    const misses = candidates.map((recipe) => {
      const row = quadraticTerms(evidence, recipe);
      return meanSquare(
        inTurn,
        fitted.map((coefficients) => dot(row, coefficients)),
      );
    });
    return candidates[indexOfLeast(misses)]!;
  },
};

/** Shares scaled to sum to one over the lower limits (pseudo-components), their products, and the coded settings. */
function quadraticTerms(evidence: Evidence, recipe: Recipe): number[] {
  const { components, settings } = evidence.world.space;
  const free = 1 - components.reduce((sum, { low }) => sum + low, 0);
  const p = components.map(({ low }, i) => (recipe.shares[i]! - low) / free);
  const z = settings.map(({ low, high }, s) => (2 * recipe.settings[s]! - low - high) / (high - low));
  const pairs = p.flatMap((a, i) => p.slice(i + 1).map((b) => 4 * a * b));
  const crossed = z.flatMap((v) => [...p.map((a) => a * v), v * v]);
  return [...p, ...pairs, ...crossed];
}

/** A trace of ridge keeps designs with fewer mixes than terms comparable. */
const TRACE = 1e-4;

function exchange(rows: readonly number[][], count: number, stream: NamedStream) {
  const chosen = Array.from({ length: count }, () => Math.floor(rows.length * stream.uniform()));
  let logDeterminant = criterion(rows, chosen);
  for (let sweep = 0; sweep < 4; sweep++) {
    const before = logDeterminant;
    for (let place = 0; place < count; place++) {
      for (let t = 0; t < 40; t++) {
        const tried = [...chosen];
        tried[place] = Math.floor(rows.length * stream.uniform());
        const value = criterion(rows, tried);
        if (value <= logDeterminant) continue;
        logDeterminant = value;
        chosen[place] = tried[place]!;
      }
    }
    if (logDeterminant - before < 1e-3) break;
  }
  return { chosen, logDeterminant };
}

function criterion(rows: readonly number[][], chosen: readonly number[]): number {
  return cholesky(information(chosen.map((i) => rows[i]!))).reduce(
    (sum, row, i) => sum + 2 * Math.log(row[i]!),
    0,
  );
}

function information(rows: readonly number[][]): number[][] {
  const p = rows[0]!.length;
  return Array.from({ length: p }, (_, i) =>
    Array.from({ length: p }, (_, j) => {
      return rows.reduce((sum, row) => sum + row[i]! * row[j]!, i === j ? TRACE : 0);
    }),
  );
}

function leastSquares(evidence: Evidence, attribute: number): number[] {
  const kept = evidence.made
    .map((made) => ({
      row: quadraticTerms(evidence, made),
      y: plainMeans(evidence, made.mix)[attribute] ?? null,
    }))
    .filter(({ y }) => y !== null);
  const lower = cholesky(information(kept.map(({ row }) => row)));
  const right = kept[0]!.row.map((_, i) => kept.reduce((sum, { row, y }) => sum + row[i]! * y!, 0));
  return backward(lower, forward(lower, right));
}
