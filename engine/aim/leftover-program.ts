import type { LinearProgram, LinearSolver } from '../numeric/linear-solver.ts';
import type { Leftover } from './leftover-types.ts';

/** What is to be made, in grams. */
export interface LeftoverRequest {
  /** Mass wanted of each component. */
  wanted: readonly number[];
  leftovers: readonly Leftover[];
  /** What a gram of each component costs. */
  prices: readonly number[];
  /** What one weighing costs, in the same money: saves steps where it saves hardly any material. */
  weighing: number;
  /** How far the mass of each component may come out off, in grams; default 0. */
  slack?: number | undefined;
  /** Least mass worth pouring from a bottle, in grams; default 0. */
  leastPour?: number | undefined;
  /** Least mass of each fresh component that is worth weighing, in grams; default 0. */
  leastFresh?: readonly number[] | undefined;
}

/** Grams from each leftover and of each fresh component. */
export interface LeftoverPour {
  poured: number[];
  fresh: number[];
  cost: number;
}

/** Off by a slack costs this part of the dearest material's price: it is taken only where it saves a weighing. */
const SLACK_PRICE = 0.01;

/**
 * The cheapest way to make a blend from what is left and fresh material, as a mixed-integer linear program: mixes
 * blend linearly by mass. Minimises Σ price·fresh + weighing·(number of weighings), with for each component
 * Σ share·poured + fresh = wanted (within the slack), no leftover poured beyond what is left, and nothing poured in
 * amounts below the least.
 * @returns null where the program has no answer (only with a least pour)
 */
export function pourFromLeftovers(request: LeftoverRequest, solver: LinearSolver): LeftoverPour | null {
  const outcome = solver.solve(programOf(request));
  if (outcome.status !== 'optimal') return null;
  const n = request.leftovers.length;
  const q = request.wanted.length;
  return {
    poured: outcome.x.slice(0, n).map(clean),
    fresh: outcome.x.slice(n, n + q).map(clean),
    cost: outcome.objective,
  };
}

/** Columns: poured, fresh, off (more), off (less), then whether each leftover and each fresh component is used. */
function programOf(request: LeftoverRequest): LinearProgram {
  const { wanted, leftovers, prices, weighing, slack = 0, leastPour = 0, leastFresh = [] } = request;
  const n = leftovers.length;
  const q = wanted.length;
  const total = wanted.reduce((a, b) => a + b, 0);
  const width = 2 * n + 4 * q;
  const row = (entries: readonly (readonly [number, number])[]): number[] => {
    const coefficients = new Array<number>(width).fill(0);
    for (const [column, value] of entries) coefficients[column] = value;
    return coefficients;
  };
  const used = (i: number) => n + 3 * q + i;
  const balance = wanted.map((grams, j) => ({
    coefficients: row([
      ...leftovers.map(({ shares }, i) => [i, shares[j]!] as const),
      [n + j, 1],
      [n + q + j, 1],
      [n + 2 * q + j, -1],
    ]),
    least: grams,
    most: grams,
  }));
  const sum = {
    coefficients: row(Array.from({ length: n + q }, (_, i) => [i, 1] as const)),
    least: total,
    most: total,
  };
  const limits = [
    ...leftovers.map(({ grams }) => Math.min(grams, total)),
    ...wanted.map((grams) => grams + slack),
  ];
  const switches = limits.flatMap((limit, i) => [
    {
      coefficients: row([
        [i, 1],
        [used(i), -limit],
      ]),
      least: Number.NEGATIVE_INFINITY,
      most: 0,
    },
    {
      coefficients: row([
        [i, 1],
        [used(i), -Math.min(i < n ? leastPour : (leastFresh[i - n] ?? 0), limit)],
      ]),
      least: 0,
      most: Number.POSITIVE_INFINITY,
    },
  ]);
  const offPrice = SLACK_PRICE * Math.max(1e-9, ...prices);
  return {
    objective: [
      ...leftovers.map(() => 0),
      ...prices,
      ...new Array<number>(2 * q).fill(offPrice),
      ...new Array<number>(n + q).fill(weighing),
    ],
    sense: 'minimise',
    rows: [...balance, sum, ...switches],
    low: new Array<number>(width).fill(0),
    high: [...limits, ...new Array<number>(2 * q).fill(slack), ...new Array<number>(n + q).fill(1)],
    integer: [...new Array<boolean>(n + 3 * q).fill(false), ...new Array<boolean>(n + q).fill(true)],
  };
}

function clean(grams: number): number {
  return Math.abs(grams) < 1e-9 ? 0 : grams;
}
