import { EngineError } from '../errors.ts';
import { createRandom, type Random } from '../numeric/random.ts';
import { CandidateTable, type Spot } from './candidate-table.ts';
import { designAt } from './design-at.ts';
import { DesignState } from './design-state.ts';
import { bestOnLine, blendLines, type Line, settingLines, spotOn, termsOnLine } from './line-move.ts';
import { candidateSpots, MOST_CANDIDATES, type SearchProblem } from './plan-problem.ts';
import { economise } from './scarce.ts';
import { isForbidden, mayStand } from './standing.ts';
import { orthonormalTerms } from './term-space.ts';

/** What one start of the search came to: plain data, so that a worker can send it. */
export interface StartResult {
  start: number;
  /** The criterion over the continuous region; smaller is better. */
  score: number;
  spots: Spot[];
  /** How often each spot is weighed. */
  weights: number[];
}

const PASSES = 12;
/** A shake costs about as much as a start; so many multiplications go into them, but no more shakes than these. */
const SHAKING = 3e8;
const MOST_SHAKES = 40;
/** Part of the mixes that a shake moves. */
const SHAKEN = 0.1;
const LINE_PASSES = 3;
const LINES_PER_ROW = 24;
/** Passes end when one gains less than this part of the criterion. */
const ENOUGH = 1e-4;

/**
 * One search from a random beginning: exchanges with candidates until they gain nothing more, then each mix moved
 * along lines through the region. It depends on the problem and the number of the start alone.
 */
export function planStart(problem: SearchProblem, start: number): StartResult {
  const random = createRandom(problem.input.seed, `start ${start}`);
  const table = tableOf(problem, openSpots(problem, random));
  const search = new Search(problem, table, random);
  search.begin();
  search.exchangeUntilSettled();
  search.shake(shakesOf(problem));
  if (problem.replicated > 0) search.chooseRepeats();
  search.moveAlongLines();
  return { start, score: search.state.score, spots: search.spots, weights: [...search.state.weights] };
}

/** Candidates without those that the maker forbids. */
export function openSpots(problem: SearchProblem, random: Random): Spot[] {
  const open = candidateSpots(problem, random).filter((spot) => !isForbidden(problem, spot));
  if (open.length > 0) return open;
  throw new EngineError('bad-argument', 'forbidden', problem.forbidden.length, 'to leave some mix to plan');
}

/** Mixes, and what they come to. */
export interface Settled {
  state: DesignState;
  spots: Spot[];
}

/**
 * Exchanges with candidates from given mixes until nothing gains; `in full` with shakes and moves along lines too, as
 * a start does. Never worse than it began.
 */
export function settle(
  problem: SearchProblem,
  table: CandidateTable,
  spots: readonly Spot[],
  how: 'quickly' | 'in full' = 'quickly',
): Settled {
  const own = { ...problem, distinct: spots.length, replicated: 0 };
  const search = new Search(own, table, createRandom(problem.input.seed, `settle ${spots.length}`));
  search.spots = [...spots];
  search.state = designAt(problem, spots);
  search.exchangeUntilSettled();
  if (how === 'in full') {
    search.shake(shakesOf(own, SHAKING / 4));
    search.moveAlongLines();
  }
  return { state: search.state, spots: search.spots };
}

/** About how many multiplications a start takes without its shakes: some ten passes over all candidates. */
export function workOfStart({ space, distinct, blends, levels, degree }: SearchProblem): number {
  const p = space.terms.length;
  const combinations = levels.reduce((n, { coded }) => n * Math.min(coded.length, degree > 1 ? 3 : 2), 1);
  const candidates = Math.min(MOST_CANDIDATES, blends.length * combinations);
  return 10 * candidates * p * (p + 4 * distinct);
}

function shakesOf(problem: SearchProblem, work = SHAKING): number {
  return Math.min(MOST_SHAKES, Math.floor(work / workOfStart(problem)));
}

/** The best of several starts: least score, the earlier start where they are equal. */
export function rankStarts(results: readonly StartResult[]): StartResult[] {
  return [...results].sort((a, b) => a.score - b.score || a.start - b.start);
}

export function tableOf(problem: SearchProblem, spots: readonly Spot[]): CandidateTable {
  const p = problem.space.terms.length;
  const rows = new Float64Array(spots.length * p);
  spots.forEach(({ shares, coded }, c) => {
    rows.set(orthonormalTerms(problem.space, shares, coded), c * p);
  });
  return new CandidateTable(spots, rows);
}

class Search {
  readonly problem: SearchProblem;
  readonly table: CandidateTable;
  readonly random: Random;
  state: DesignState;
  spots: Spot[] = [];

  constructor(problem: SearchProblem, table: CandidateTable, random: Random) {
    this.problem = problem;
    this.table = table;
    this.random = random;
    const { space, criterion, fixed, distinct } = problem;
    this.state = new DesignState(space.terms.length, criterion, new Array<number>(distinct).fill(1), fixed);
  }

  /** Random candidates, with a little ridge so that the first exchanges have something to go by. */
  begin(): void {
    const chosen = this.#randomChoice();
    this.spots = chosen.map((c) => this.table.spots[c]!);
    chosen.forEach((c, r) => {
      this.state.setRow(r, this.table.row(c));
    });
    this.#economise();
    this.state.rebuild(1e-2);
    this.#exchangePass();
    this.state.rebuild(1e-5);
    this.#exchangePass();
    this.state.rebuild();
  }

  #randomChoice(): number[] {
    const { distinct, onlyListed } = this.problem;
    const all = this.table.spots.length;
    if (!onlyListed) return Array.from({ length: distinct }, () => this.random.integer(all));
    return this.random.shuffle(Array.from({ length: all }, (_, c) => c)).slice(0, distinct);
  }

  #economise(): void {
    const { spots } = this.table;
    for (const [row, c] of economise(
      this.problem.scarce,
      { spots: this.spots, weights: this.state.weights },
      spots,
    )) {
      this.spots[row] = spots[c]!;
      this.state.setRow(row, this.table.row(c));
    }
  }

  exchangeUntilSettled(): void {
    for (let pass = 0; pass < PASSES; pass++) {
      const gain = this.#exchangePass();
      this.state.rebuild();
      if (gain <= ENOUGH * this.#size()) return;
    }
  }

  /**
   * Puts a few mixes at random places and settles again, and keeps what is better (iterated local search: Lourenço,
   * Martin and Stützle 2003): from a good design the next better one is nearer than from a random beginning.
   */
  shake(times: number): void {
    const { distinct } = this.problem;
    for (let k = 0; k < times && distinct > 1; k++) {
      const before = { spots: [...this.spots], rows: this.state.rows.slice(), score: this.state.score };
      const rows = this.random.shuffle(Array.from({ length: distinct }, (_, r) => r));
      for (const row of rows.slice(0, Math.max(2, Math.round(SHAKEN * distinct)))) this.#scatter(row);
      this.state.rebuild();
      this.exchangeUntilSettled();
      if (this.state.score < before.score) continue;
      this.spots = before.spots;
      this.state.rows.set(before.rows);
      this.state.rebuild();
    }
  }

  #scatter(row: number): void {
    const c = this.random.integer(this.table.spots.length);
    const spot = this.table.spots[c]!;
    if (!this.#mayTake(row, spot)) return;
    this.state.setRow(row, this.table.row(c));
    this.spots[row] = spot;
  }

  /** Each mix in turn is put where it helps most; returns what the pass gained. */
  #exchangePass(): number {
    const { state, table } = this;
    table.refresh(state);
    const before = state.score;
    for (const row of this.random.shuffle(Array.from({ length: state.count }, (_, r) => r))) {
      const leaving = state.leaving(row);
      const best = table.best(state, leaving, 1e-9 * this.#size(), (c) =>
        this.#mayTake(row, table.spots[c]!),
      );
      if (best === null) continue;
      table.exchange(state, leaving, this.state.weighted(row, table.row(best)));
      this.spots[row] = table.spots[best]!;
    }
    return before - state.score;
  }

  #mayTake(row: number, spot: Spot): boolean {
    return mayStand(this.problem, { spots: this.spots, weights: this.state.weights }, row, spot);
  }

  #size(): number {
    return this.state.criterion === 'determinant' ? 1 : Math.abs(this.state.score);
  }

  /** Weighs those mixes again whose second weighing helps most, then lets the exchange settle once more. */
  chooseRepeats(): void {
    const weights = [...this.state.weights];
    for (let k = 0; k < this.problem.replicated; k++) {
      const least = Math.min(...weights);
      const scores = weights.map((w, r) => (w > least ? Infinity : this.#scoreWith(weights.with(r, w + 1))));
      const row = scores.indexOf(Math.min(...scores));
      weights[row] = weights[row]! + 1;
    }
    this.state = this.#filled(weights);
    this.#economise();
    this.state.rebuild();
    this.exchangeUntilSettled();
  }

  #scoreWith(weights: readonly number[]): number {
    return this.#filled(weights).score;
  }

  #filled(weights: readonly number[]): DesignState {
    return designAt(this.problem, this.spots, weights);
  }

  /** Moves each mix along lines of the region and of the settings, as long as that pays. */
  moveAlongLines(): void {
    for (let pass = 0; pass < LINE_PASSES; pass++) {
      const before = this.state.score;
      for (let row = 0; row < this.state.count; row++) this.#moveRow(row);
      this.state.rebuild();
      if (before - this.state.score <= ENOUGH * this.#size()) return;
    }
  }

  #moveRow(row: number): void {
    const { region, directions } = this.problem;
    const chosen =
      directions.length > LINES_PER_ROW
        ? this.random.shuffle(directions).slice(0, LINES_PER_ROW)
        : directions;
    for (const direction of chosen) this.#tryLines(row, blendLines(region, this.spots[row]!, [direction]));
    for (let s = 0; s < region.space.settings.length; s++)
      this.#tryLines(row, settingLines(region, this.spots[row]!).slice(s, s + 1));
  }

  #tryLines(row: number, lines: readonly Line[]): void {
    const { space, degree } = this.problem;
    for (const line of lines) {
      const leaving = this.state.leaving(row);
      const terms = termsOnLine(space, line, line.shares === null ? 2 : Math.max(1, degree));
      const { t, gain } = bestOnLine(this.state, leaving, line, terms);
      if (gain <= 1e-7 * this.#size()) continue;
      const spot = spotOn(line, t);
      const g = this.state.weighted(row, orthonormalTerms(space, spot.shares, spot.coded));
      if (!this.#mayTake(row, spot) || this.state.gainOf(leaving, g) <= 1e-7 * this.#size()) continue;
      this.state.exchange(leaving, g);
      this.spots[row] = spot;
    }
  }
}
