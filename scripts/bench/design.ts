import { DesignState } from '../../engine/design/design-state.ts';
import { finishPlan, startsOf } from '../../engine/design/plan-mixes.ts';
import { candidateSpots, type PlanProblem, prepareProblem } from '../../engine/design/plan-problem.ts';
import { planStart, tableOf } from '../../engine/design/plan-start.ts';
import type { PlanResult } from '../../engine/design/plan-types.ts';
import { orthonormalTerms } from '../../engine/design/term-space.ts';
import { cholesky, inverseFromCholesky } from '../../engine/numeric/dense.ts';
import { createRandom } from '../../engine/numeric/random.ts';
import { simplex } from '../../tests/engine/region/spaces.ts';
import { loadSolver } from '../../trials/solver.ts';
import { type PlanCase, REGIONS } from './design-regions.ts';

const batch = { grams: 10, readability: 0.01 };
const solver = await loadSolver();
/** Starts of the search that plans are held against, as many times those of a plan. */
const LONGER = 50;

type Print = (line: string) => void;

/** Speed, growth, quality and memory of plans; fails where a result is wrong or a floor is not held. */
export function benchDesign(print: Print): void {
  exchangeAgainstPlain(print);
  growth(print);
  memory(print);
  quality(print, REGIONS);
}

function must(holds: boolean, says: string): void {
  if (!holds) throw new Error(`bench design: ${says}`);
}

/**
 * One judged exchange, q = 8 quadratic (p = 36): low-rank products against refactoring X'X after the same exchange.
 * Both must give the same gain to 1e-8.
 */
function exchangeAgainstPlain(print: Print): void {
  for (const criterion of ['average-variance', 'determinant'] as const) {
    const problem = prepareProblem(
      { space: simplex(8), batch, mixes: 45, model: 'quadratic', criterion, seed: 1 },
      { solver },
    );
    const random = createRandom(1, 'bench');
    const table = tableOf(problem, candidateSpots(problem, random));
    const state = stateFrom(problem);
    for (let k = 0; k < 20; k++) judgeAll(state, table);
    const judged = state.count * table.spots.length;
    const fast = best(3, () => judgeAll(state, table));
    const rows = Array.from({ length: 5 }, () => random.integer(state.count));
    const columns = Array.from({ length: 40 }, () => random.integer(table.spots.length));
    let worst = 0;
    const plain = best(3, () => {
      for (const row of rows)
        for (const c of columns) {
          const slow = plainGain(state, row, table.row(c));
          const quick = state.gainOf(state.leaving(row), table.row(c));
          worst = Math.max(worst, apart(slow, quick));
        }
    });
    const perFast = (1e6 * fast) / judged;
    const perPlain = (1e6 * plain) / (rows.length * columns.length);
    print(
      `${criterion.padEnd(17)} one judged exchange: ${perFast.toFixed(0)} ns, plain ${perPlain.toFixed(0)} ns, ${(perPlain / perFast).toFixed(0)} times; gains agree to ${worst.toExponential(0)}`,
    );
    must(worst < 1e-8, 'low-rank and plain gains differ');
    must(perPlain / perFast >= 8, 'an exchange is judged less than 8 times faster than plainly');
  }
}

/** Relative difference of two gains; none where both say that the exchange leaves too little to go by. */
function apart(a: number, b: number): number {
  const none = (gain: number) => gain < -20;
  return none(a) && none(b) ? 0 : Math.abs(a - b) / Math.max(1, Math.abs(a));
}

/** The design that one start comes to: any exchange with it is well defined. */
function stateFrom(problem: PlanProblem): DesignState {
  const { space, criterion, fixed } = problem;
  const { spots, weights } = planStart(problem, 0);
  const state = new DesignState(space.terms.length, criterion, weights, fixed);
  spots.forEach(({ shares, coded }, r) => {
    state.setRow(r, orthonormalTerms(space, shares, coded));
  });
  state.rebuild();
  return state;
}

/** A whole pass: products of the candidates with A, then every candidate in place of every row. */
function judgeAll(state: DesignState, table: ReturnType<typeof tableOf>): void {
  table.refresh(state);
  for (let row = 0; row < state.count; row++)
    table.best(state, state.leaving(row), Number.POSITIVE_INFINITY, () => true);
}

/** X'X - ff' + gg' factored afresh: p² to change it, p³/6 for the factor, p³/3 more for the inverse's trace. */
function plainGain(state: DesignState, row: number, g: Float64Array): number {
  const { p } = state;
  const changed = inverse(state.a, p);
  const f = state.rows.subarray(row * p, (row + 1) * p);
  for (let i = 0; i < p; i++)
    for (let j = 0; j < p; j++) changed[i * p + j]! += g[i]! * g[j]! - f[i]! * f[j]!;
  const logDet = cholesky(changed, p);
  if (logDet === null) return Number.NEGATIVE_INFINITY;
  if (state.criterion === 'determinant') return logDet - state.logDet;
  const a = inverseFromCholesky(changed, p);
  let trace = 0;
  for (let i = 0; i < p; i++) trace += a[i * p + i]!;
  return state.trace - trace;
}

const kept = new WeakMap<Float64Array, Float64Array>();

/** X'X itself, worked out once: the plain way has it at hand. */
function inverse(a: Float64Array, p: number): Float64Array {
  const known = kept.get(a);
  if (known) return Float64Array.from(known);
  const copy = Float64Array.from(a);
  cholesky(copy, p);
  const back = inverseFromCholesky(copy, p);
  kept.set(a, back);
  return Float64Array.from(back);
}

/** Least milliseconds of processor time of several runs. */
function best(times: number, run: () => void): number {
  return Math.min(
    ...Array.from({ length: times }, () => {
      const began = process.cpuUsage();
      run();
      const { user, system } = process.cpuUsage(began);
      return (user + system) / 1000;
    }),
  );
}

/** Exponents of the time of one start, quadratic: with components (mixes = terms + 5), with mixes (six components). */
function growth(print: Print): void {
  const timed = (q: number, mixes: number) => {
    const input = { space: simplex(q), batch, mixes, model: 'quadratic', seed: 1 } as const;
    const problem = prepareProblem(input, { solver });
    const prepared = best(1, () => prepareProblem(input, { solver }));
    const start = best(2, () => planStart(problem, 0));
    const p = problem.space.terms.length;
    print(
      `q ${String(q).padStart(2)}  terms ${String(p).padStart(2)}  mixes ${String(mixes).padStart(3)}  preparing ${prepared.toFixed(0).padStart(5)} ms  one start ${start.toFixed(1).padStart(7)} ms`,
    );
    return start;
  };
  const qs = [3, 4, 5, 6, 8, 10, 12];
  const byQ = qs.map((q) => timed(q, (q * (q + 1)) / 2 + 5));
  const ns = [30, 60, 120, 240];
  const byN = ns.map((n) => timed(6, n));
  print(
    `time of a start grows as q^${slope(qs, byQ).toFixed(1)} (from 6 components ${slope(qs.slice(3), byQ.slice(3)).toFixed(1)}) and as mixes^${slope(ns, byN).toFixed(1)}`,
  );
}

function slope(x: readonly number[], y: readonly number[]): number {
  const [u, v] = [x, y].map((list) => list.map(Math.log));
  const mean = (list: readonly number[]) => list.reduce((a, b) => a + b, 0) / list.length;
  const [mu, mv] = [mean(u!), mean(v!)];
  const across = u!.reduce((sum, a, i) => sum + (a - mu) * (v![i]! - mv), 0);
  return across / u!.reduce((sum, a) => sum + (a - mu) ** 2, 0);
}

function memory(print: Print): void {
  const input = { space: simplex(12), batch, mixes: 90, model: 'quadratic', seed: 1 } as const;
  const problem = prepareProblem(input, { solver });
  planStart(problem, 0);
  const { rss, heapUsed, arrayBuffers } = process.memoryUsage();
  const mb = (bytes: number) => `${Math.round(bytes / 2 ** 20)} MB`;
  print(`12 components, 78 terms, 90 mixes: ${mb(rss)} resident, ${mb(heapUsed + arrayBuffers)} in use`);
  must(rss < 2 ** 30, 'a plan of twelve components holds more than 1 GB');
}

/** Each region by both criteria: efficiency against the best of fifty times the starts, all put on the same grid. */
function quality(print: Print, regions: readonly PlanCase[]): void {
  print(
    `${LONGER} times the starts:                                    determinant a term   average variance`,
  );
  let least = 1;
  for (const one of regions) {
    const [d, v] = (['determinant', 'average-variance'] as const).map((criterion) =>
      efficiency(one, criterion),
    );
    print(`${one.name.padEnd(56)} ${percent(d!)}           ${percent(v!)}`);
    least = Math.min(least, d!, v!);
  }
  print(`worst of all: ${percent(least)}`);
  must(least >= 0.995, 'a plan falls more than half a percent short of a long search');
}

function efficiency({ input }: PlanCase, criterion: 'determinant' | 'average-variance'): number {
  const problem = prepareProblem({ ...input, criterion, seed: 1 }, { solver });
  const count = startsOf(problem);
  const results = Array.from({ length: LONGER * count }, (_, start) => planStart(problem, start));
  const plan = finishPlan(problem, results.slice(0, count));
  const bests = Array.from({ length: 5 }, (_, k) =>
    finishPlan(
      problem,
      results.filter((__, s) => s % 5 === k),
    ),
  );
  return Math.min(...[...bests, plan].map((other) => compared(plan, other, criterion)));
}

function compared(
  plan: PlanResult,
  other: PlanResult,
  criterion: 'determinant' | 'average-variance',
): number {
  if (criterion === 'average-variance') return other.averageVariance! / plan.averageVariance!;
  return Math.exp((plan.logDeterminant! - other.logDeterminant!) / plan.terms.length);
}

function percent(part: number): string {
  return `${(100 * part).toFixed(2)} %`;
}
