import { createRandom, type Random } from '../numeric/random.ts';
import { BottleGains, type Poured } from './bottle-gains.ts';
import type { Spot } from './candidate-table.ts';
import { designAt } from './design-at.ts';
import type { DesignState } from './design-state.ts';
import { gridCandidates, type PolishedDesign } from './grid-polish.ts';
import { shiftsOf } from './grid-shifts.ts';
import { type GridSpot, gridSpot } from './grid-spot.ts';
import type { SearchProblem } from './plan-problem.ts';
import type { StartResult } from './plan-start.ts';
import { economise, staysWithin } from './scarce.ts';
import { isForbidden } from './standing.ts';

const PASSES = 12;
/** Counted multiplications of one pass over all bottles; on large problems a pass looks at fewer blends. */
const WORK_OF_PASS = 4e7;
const LEAST_LOOKS = 12;
const ENOUGH = 1e-5;

/** One search for bottles of which several mixes are poured, on the grid of the balance from a random beginning. */
export function planBottles(problem: SearchProblem, start: number): StartResult {
  const search = new BottleSearch(problem, createRandom(problem.input.seed, `bottles ${start}`));
  for (let pass = 0; pass < PASSES; pass++) {
    const before = search.score;
    search.pass();
    if (before - search.score <= ENOUGH * search.size) break;
  }
  const spots = search.spots;
  return { start, score: search.score, spots, weights: spots.map(() => 1) };
}

/** The design that a search for bottles came to, which is on the grid already. */
export function settledBottles(problem: SearchProblem, { spots, weights }: StartResult): PolishedDesign {
  const state = designAt(problem, spots, weights);
  return { score: state.score, spots: spots as GridSpot[], weights, state };
}

/**
 * Bottles in turn are emptied and filled anew: for each blend looked at, settings are chosen one after the other, each
 * the one that helps most beside those before; the best blend is kept. Blends are a choice of candidates and the
 * neighbours of the present one by whole steps of the balance, so that all mixes of a bottle share its shares.
 */
class BottleSearch {
  readonly problem: SearchProblem;
  readonly random: Random;
  readonly blends: GridSpot[];
  readonly codes: readonly (readonly number[])[];
  readonly sizes: readonly number[];
  bottles: Poured<GridSpot>[] = [];
  score = Number.POSITIVE_INFINITY;

  constructor(problem: SearchProblem, random: Random) {
    this.problem = problem;
    this.random = random;
    const middle = problem.levels.map(() => 0);
    this.blends = gridCandidates(
      problem,
      problem.blends.map((shares) => ({ shares, coded: middle })),
    );
    this.codes = codesOf(problem);
    const { distinct, perBottle } = problem;
    this.sizes = Array.from({ length: Math.ceil(distinct / perBottle) }, (_, b) =>
      Math.min(perBottle, distinct - b * perBottle),
    );
    this.#begin();
  }

  get spots(): GridSpot[] {
    return pouredSpots(this.bottles);
  }

  get size(): number {
    return this.problem.criterion === 'determinant' ? 1 : Math.abs(this.score);
  }

  #begin(): void {
    const chosen = this.random.shuffle(this.blends).slice(0, this.sizes.length);
    while (chosen.length < this.sizes.length)
      chosen.push(this.blends[this.random.integer(this.blends.length)]!);
    const taking = { spots: chosen, weights: chosen.map(() => 1) };
    for (const [row, c] of economise(this.problem.scarce, taking, this.blends)) chosen[row] = this.blends[c]!;
    this.bottles = chosen.map((blend, b) => ({
      blend,
      codes: this.random.shuffle([...this.codes]).slice(0, this.sizes[b]!),
    }));
    this.score = this.#scoreOf(this.bottles);
  }

  pass(): void {
    const { problem, sizes } = this;
    const p = problem.space.terms.length;
    const each = WORK_OF_PASS / (sizes.length * problem.perBottle * this.codes.length * p * p);
    const looks = Math.max(LEAST_LOOKS, Math.floor(each));
    for (const b of this.random.shuffle(sizes.map((_, k) => k))) {
      const others = this.bottles.filter((_, k) => k !== b);
      const gains = new BottleGains(problem, this.#stateOf(others), this.codes);
      const now = this.bottles[b]!;
      const offered = [
        ...this.random.shuffle(this.blends).slice(0, looks),
        ...this.random.shuffle(shiftsOf(problem, now.blend)).slice(0, looks),
      ].filter((blend) => this.#mayFill(b, blend));
      let best = now;
      let least = gains.scoreOf(now);
      for (const blend of [now.blend, ...offered]) {
        const { poured, score } = gains.fill(blend, sizes[b]!, (spot) => !isForbidden(problem, spot));
        if (poured === null || score >= least - 1e-9 * Math.abs(least)) continue;
        least = score;
        best = poured;
      }
      if (best === now) continue;
      const changed = this.bottles.with(b, best);
      const score = this.#scoreOf(changed);
      if (score >= this.score) continue;
      this.bottles = changed;
      this.score = score;
    }
  }

  /** No two bottles of one blend, since that would be one bottle; and no more of a scarce component than there is. */
  #mayFill(b: number, blend: GridSpot): boolean {
    const key = blend.point.units.join();
    if (this.bottles.some((other, k) => k !== b && other.blend.point.units.join() === key)) return false;
    const spots: Spot[] = this.bottles.map((bottle) => bottle.blend);
    return staysWithin(this.problem.scarce, { spots, weights: spots.map(() => 1) }, b, blend);
  }

  #stateOf(bottles: readonly Poured<GridSpot>[]): DesignState {
    return designAt(this.problem, pouredSpots(bottles));
  }

  /** Infinite where the mixes cannot settle all terms. */
  #scoreOf(bottles: readonly Poured<GridSpot>[]): number {
    const state = this.#stateOf(bottles);
    return state.sound ? state.score : Number.MAX_VALUE / (2 + Math.exp(Math.min(600, state.logDet)));
  }
}

/** One mix for every setting at which a bottle is poured. */
function pouredSpots(bottles: readonly Poured<GridSpot>[]): GridSpot[] {
  return bottles.flatMap(({ blend, codes }) => codes.map((coded) => ({ ...blend, coded: [...coded] })));
}

/** Every combination of lowest, middle and highest, as offered; lowest and highest alone for a linear model. */
function codesOf(problem: SearchProblem): number[][] {
  const { degree, levels, region } = problem;
  const values = degree > 1 || problem.perBottle > 2 ? [-1, 0, 1] : [-1, 1];
  let codes: number[][] = [[]];
  for (const { low, high } of region.space.settings)
    codes = codes.flatMap((code) => (high > low ? values.map((v) => [...code, v]) : [[...code, 0]]));
  const somewhere = { units: [], forms: [] };
  const snapped = codes.map((coded) => gridSpot({ grid: problem.grid, levels }, somewhere, coded).coded);
  return [...new Map(snapped.map((coded) => [coded.join(), [...coded]])).values()];
}
