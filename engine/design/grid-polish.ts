import { nearestOnGrid } from '../region/grid-program.ts';
import { roundToGrid } from '../region/round-to-grid.ts';
import { formFor } from '../region/weighing-grid.ts';
import type { Spot } from './candidate-table.ts';
import { designAt } from './design-at.ts';
import type { DesignState, Leaving } from './design-state.ts';
import { bestLevel, bestShift, type GridMove } from './grid-line.ts';
import { type GridSpot, gridSpot } from './grid-spot.ts';
import type { PlanProblem, SearchProblem } from './plan-problem.ts';
import { type StartResult, tableOf } from './plan-start.ts';
import { economise } from './scarce.ts';
import { isForbidden, mayStand } from './standing.ts';
import { orthonormalTerms } from './term-space.ts';

export interface PolishedDesign {
  score: number;
  spots: GridSpot[];
  weights: number[];
  state: DesignState;
}

const PASSES = 6;
const ROUNDS = 2;
/** Passes end when one gains less than this part of the criterion; smaller steps are not worth the search. */
const ENOUGH = 1e-5;

/**
 * Puts a design on the weighable grid and exchanges there: each mix with the weighable neighbours of candidates,
 * then by whole steps between two components and by levels of a setting, until nothing gains.
 *
 * @param toll what a unit of share of each component costs, in the unit of the criterion; default nothing
 */
export function polishOnGrid(
  problem: PlanProblem,
  start: StartResult,
  candidates: readonly GridSpot[],
  toll: readonly number[] | null = null,
): PolishedDesign {
  return new Polish(problem, start, { candidates, toll }).run();
}

/** Candidates rounded to the grid, each once; those that rounding cannot bring inside are left out. */
export function gridCandidates(problem: SearchProblem, spots: readonly Spot[]): GridSpot[] {
  const seen = new Map<string, GridSpot>();
  for (const spot of spots) {
    const point = roundToGrid(problem.region, spot.shares, problem.grid);
    if (point === null) continue;
    const rounded = gridSpot(problem, point, spot.coded);
    const key = `${point.units.join()} ${rounded.coded.join()}`;
    if (!seen.has(key) && !isForbidden(problem, rounded)) seen.set(key, rounded);
  }
  return [...seen.values()];
}

class Polish {
  readonly problem: PlanProblem;
  readonly state: DesignState;
  readonly candidates: readonly GridSpot[];
  readonly spots: GridSpot[];
  readonly toll: readonly number[] | null;
  #kept: Leaving | null = null;

  constructor(
    problem: PlanProblem,
    start: StartResult,
    { candidates, toll }: { candidates: readonly GridSpot[]; toll: readonly number[] | null },
  ) {
    this.problem = problem;
    this.toll = toll;
    this.candidates = candidates;
    this.spots = start.spots.map((spot) => this.#onGrid(spot));
    const taking = { spots: this.spots, weights: start.weights };
    for (const [row, c] of economise(problem.scarce, taking, candidates)) this.spots[row] = candidates[c]!;
    this.state = designAt(problem, this.spots, start.weights);
  }

  run(): PolishedDesign {
    for (let pass = 0; pass < PASSES; pass++) {
      const before = this.#merit();
      this.#exchangeCandidates();
      for (let row = 0; row < this.state.count; row++) this.#climb(row);
      this.state.rebuild();
      if (before - this.#merit() <= ENOUGH * this.#size()) break;
    }
    const { state, spots } = this;
    return { score: state.score, spots, weights: [...state.weights], state };
  }

  /** The criterion and the tolls of all mixes. */
  #merit(): number {
    return this.spots.reduce(
      (sum, spot, r) => sum + this.state.weights[r]! * this.#tollOf(spot),
      this.state.score,
    );
  }

  #tollOf({ shares }: Spot): number {
    return this.toll === null ? 0 : this.toll.reduce((sum, toll, i) => sum + toll * shares[i]!, 0);
  }

  /** What a row saves in tolls at another place. */
  #saving(row: number, spot: Spot): number {
    if (this.toll === null) return 0;
    return this.state.weights[row]! * (this.#tollOf(this.spots[row]!) - this.#tollOf(spot));
  }

  /** The nearest place on the grid; where that is forbidden, some candidate to begin from. */
  #onGrid(spot: Spot): GridSpot {
    const nearest = this.#nearest(spot);
    return isForbidden(this.problem, nearest) ? this.candidates[0]! : nearest;
  }

  #nearest(spot: Spot): GridSpot {
    const { region, grid, solver } = this.problem;
    const rounded = roundToGrid(region, spot.shares, grid);
    if (rounded !== null) return gridSpot(this.problem, rounded, spot.coded);
    const forms = spot.shares.map((share, i) => formFor(grid, i, share * grid.total));
    const units = nearestOnGrid(region, spot.shares, forms, { grid, solver });
    if (units !== null) return gridSpot(this.problem, { units, forms }, spot.coded);
    return {
      ...this.candidates[0]!,
      coded: gridSpot(this.problem, this.candidates[0]!.point, spot.coded).coded,
    };
  }

  #terms({ shares, coded }: Spot): Float64Array {
    return orthonormalTerms(this.problem.space, shares, coded);
  }

  #exchangeCandidates(): void {
    const { state } = this;
    const table = tableOf(this.problem, this.candidates);
    table.refresh(state);
    for (let row = 0; row < state.count; row++) {
      const leaving = state.leaving(row);
      const best = table.best(
        state,
        leaving,
        this.#least(),
        (c) => this.#mayTake(row, this.candidates[c]!),
        this.toll && ((c) => this.#saving(row, this.candidates[c]!)),
      );
      if (best === null) continue;
      table.exchange(state, leaving, this.state.weighted(row, table.row(best)));
      this.spots[row] = this.candidates[best]!;
    }
  }

  /** Moves whole steps between each two components, and settings between their levels, as long as that gains. */
  #climb(row: number): void {
    this.#kept = null;
    const q = this.spots[row]!.point.units.length;
    for (let round = 0; round < ROUNDS; round++) {
      let moved = false;
      for (let i = 0; i < q && !this.problem.onlyListed; i++)
        for (let j = i + 1; j < q; j++) if (this.#shift(row, [i, j])) moved = true;
      for (let s = 0; s < this.problem.levels.length; s++) if (this.#turn(row, s)) moved = true;
      if (!moved) return;
    }
  }

  #shift(row: number, pair: readonly [number, number]): boolean {
    const leaving = this.#leaving(row);
    const [i, j] = pair;
    const bonus = this.toll === null ? 0 : this.state.weights[row]! * (this.toll[j]! - this.toll[i]!);
    const options = { spot: this.spots[row]!, pair, least: this.#least(), bonus };
    return this.#take(leaving, bestShift(this.problem, this.state, leaving, options));
  }

  #turn(row: number, setting: number): boolean {
    const leaving = this.#leaving(row);
    const options = { spot: this.spots[row]!, setting, least: this.#least() };
    return this.#take(leaving, bestLevel(this.problem, this.state, leaving, options));
  }

  /** Products of the row with A, kept until an exchange changes A. */
  #leaving(row: number): Leaving {
    if (this.#kept?.row !== row) this.#kept = this.state.leaving(row);
    return this.#kept;
  }

  #take(leaving: Leaving, move: GridMove | null): boolean {
    const { row } = leaving;
    if (move === null || !this.#mayTake(row, move.spot)) return false;
    const g = this.state.weighted(row, this.#terms(move.spot));
    if (this.state.gainOf(leaving, g) + this.#saving(row, move.spot) <= this.#least()) return false;
    this.state.exchange(leaving, g);
    this.spots[row] = move.spot;
    this.#kept = null;
    return true;
  }

  #least(): number {
    return (ENOUGH / 100) * this.#size();
  }

  #mayTake(row: number, spot: Spot): boolean {
    return mayStand(this.problem, { spots: this.spots, weights: this.state.weights }, row, spot);
  }

  #size(): number {
    return this.state.criterion === 'determinant' ? 1 : Math.abs(this.state.score);
  }
}
