import { nearestOnGrid } from '../region/grid-program.ts';
import { isAllowed } from '../region/region.ts';
import { type GridPoint, roundToGrid } from '../region/round-to-grid.ts';
import { formFor } from '../region/weighing-grid.ts';
import type { Spot } from './candidate-table.ts';
import { DesignState } from './design-state.ts';
import type { PlanProblem } from './plan-problem.ts';
import { nearlySame, type StartResult, tableOf } from './plan-start.ts';
import { orthonormalTerms } from './term-space.ts';

/** A mix of the plan in whole steps, settings at offered values. */
export interface GridSpot extends Spot {
  point: GridPoint;
}

export interface PolishedDesign {
  score: number;
  spots: GridSpot[];
  weights: number[];
  state: DesignState;
}

const PASSES = 6;

/**
 * Puts a design on the weighable grid and exchanges there: each mix with the weighable neighbours of candidates,
 * then by single and doubled steps between two components and by levels of a setting, until nothing gains.
 */
export function polishOnGrid(
  problem: PlanProblem,
  start: StartResult,
  candidates: readonly GridSpot[],
): PolishedDesign {
  return new Polish(problem, start, candidates).run();
}

/** Candidates rounded to the grid, each once; those that rounding cannot bring inside are left out. */
export function gridCandidates(problem: PlanProblem, spots: readonly Spot[]): GridSpot[] {
  const seen = new Map<string, GridSpot>();
  for (const spot of spots) {
    const point = roundToGrid(problem.region, spot.shares, problem.grid);
    if (point === null) continue;
    const rounded = gridSpot(problem, point, spot.coded);
    const key = `${point.units.join()} ${rounded.coded.join()}`;
    if (!seen.has(key)) seen.set(key, rounded);
  }
  return [...seen.values()];
}

function gridSpot({ grid, levels }: PlanProblem, point: GridPoint, coded: readonly number[]): GridSpot {
  return {
    point,
    shares: point.units.map((u) => u / grid.total),
    coded: coded.map((z, s) => nearestLevel(levels[s]!.coded, z)),
  };
}

function nearestLevel(levels: readonly number[], z: number): number {
  return levels.reduce((best, level) => (Math.abs(level - z) < Math.abs(best - z) ? level : best));
}

class Polish {
  readonly problem: PlanProblem;
  readonly state: DesignState;
  readonly candidates: readonly GridSpot[];
  readonly spots: GridSpot[];
  readonly #ag: Float64Array;

  constructor(problem: PlanProblem, start: StartResult, candidates: readonly GridSpot[]) {
    const { space, criterion, fixed } = problem;
    this.problem = problem;
    this.candidates = candidates;
    this.state = new DesignState(space.terms.length, criterion, start.weights, fixed);
    this.spots = start.spots.map((spot) => this.#onGrid(spot));
    this.#ag = new Float64Array(space.terms.length);
    this.spots.forEach((spot, r) => {
      this.state.setRow(r, this.#terms(spot));
    });
    this.state.rebuild();
  }

  run(): PolishedDesign {
    for (let pass = 0; pass < PASSES; pass++) {
      const before = this.state.score;
      this.#exchangeCandidates();
      for (let row = 0; row < this.state.count; row++) this.#climb(row);
      this.state.rebuild();
      if (before - this.state.score <= 1e-7 * this.#size()) break;
    }
    const { state, spots } = this;
    return { score: state.score, spots, weights: [...state.weights], state };
  }

  #onGrid(spot: Spot): GridSpot {
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
      const best = table.best(state, leaving, 1e-9 * this.#size(), (c) =>
        this.#mayTake(row, this.candidates[c]!),
      );
      if (best === null) continue;
      table.exchange(state, leaving, this.#weighted(row, table.row(best)));
      this.spots[row] = this.candidates[best]!;
    }
  }

  /** Takes the best neighbouring grid point as long as one gains. */
  #climb(row: number): void {
    for (let step = 0; step < 40; step++) {
      const leaving = this.state.leaving(row);
      let best: GridSpot | null = null;
      let most = 1e-9 * this.#size();
      for (const spot of this.#neighbours(this.spots[row]!)) {
        const gain = this.state.gain(
          leaving,
          this.state.entering(leaving, this.#weighted(row, this.#terms(spot)), this.#ag),
        );
        if (gain <= most || !this.#mayTake(row, spot)) continue;
        most = gain;
        best = spot;
      }
      if (best === null) return;
      this.state.exchange(leaving, this.#weighted(row, this.#terms(best)));
      this.spots[row] = best;
    }
  }

  *#neighbours(spot: GridSpot): Generator<GridSpot> {
    const { region, grid, levels } = this.problem;
    const { units, forms } = spot.point;
    for (let i = 0; i < units.length; i++)
      for (let j = 0; j < units.length; j++) {
        const unit = Math.max(forms[i]!.unit, forms[j]!.unit);
        if (i === j || unit % forms[i]!.unit !== 0 || unit % forms[j]!.unit !== 0) continue;
        for (let step = unit; step <= units[j]! && step * 4 <= grid.total; step *= 2) {
          const moved = units.with(i, units[i]! + step).with(j, units[j]! - step);
          const shares = moved.map((u) => u / grid.total);
          if (!isAllowed(region, shares)) break;
          yield { point: { units: moved, forms }, shares, coded: spot.coded };
        }
      }
    for (let s = 0; s < levels.length; s++)
      for (const level of levels[s]!.coded)
        if (level !== spot.coded[s]) yield { ...spot, coded: spot.coded.with(s, level) };
  }

  #mayTake(row: number, spot: Spot): boolean {
    if (this.problem.replicated === 0) return true;
    return this.spots.every((other, r) => r === row || !nearlySame(this.problem, other, spot));
  }

  #weighted(row: number, g: Float64Array): Float64Array {
    const root = Math.sqrt(this.state.weights[row]!);
    return root === 1 ? g : g.map((v) => root * v);
  }

  #size(): number {
    return this.state.criterion === 'determinant' ? 1 : Math.abs(this.state.score);
  }
}
