import { dot } from '../numeric/dense.ts';
import type { Spot } from './candidate-table.ts';
import type { DesignState } from './design-state.ts';
import type { SearchProblem } from './plan-problem.ts';
import { orthonormalTerms } from './term-space.ts';

/** A bottle, and the settings at which it is poured. */
export interface Poured<Blend extends Spot> {
  blend: Blend;
  codes: readonly (readonly number[])[];
}

/**
 * What a bottle adds to a design without it. Each mix poured adds g g' to the information: A becomes
 * A - A g g'A / (1 + g'Ag) (Sherman and Morrison 1950), the trace falls by g'A²g / (1 + g'Ag) and the logarithm of the
 * determinant grows by log(1 + g'Ag).
 */
export class BottleGains {
  readonly #problem: SearchProblem;
  readonly #codes: readonly (readonly number[])[];
  readonly #state: DesignState;
  readonly #a: Float64Array;

  /** @param state the design without the bottle; where it is singular, with a ridge. */
  constructor(problem: SearchProblem, state: DesignState, codes: readonly (readonly number[])[]) {
    this.#problem = problem;
    this.#state = state;
    this.#codes = codes;
    this.#a = new Float64Array(state.a.length);
  }

  /** The criterion with a bottle as it is poured. */
  scoreOf({ blend, codes }: Poured<Spot>): number {
    this.#a.set(this.#state.a);
    return codes.reduce((score, coded) => score - this.#add(this.#rowOf(blend, coded)), this.#state.score);
  }

  /** Pours a blend so many times, each time at the setting that helps most; null where too few are allowed. */
  fill<Blend extends Spot>(
    blend: Blend,
    times: number,
    allowed: (spot: Blend) => boolean,
  ): { poured: Poured<Blend> | null; score: number } {
    const open = this.#codes.filter((coded) => allowed({ ...blend, coded }));
    if (open.length < times) return { poured: null, score: Number.POSITIVE_INFINITY };
    this.#a.set(this.#state.a);
    const rows = open.map((coded) => ({ coded, g: this.#rowOf(blend, coded) }));
    const chosen: (readonly number[])[] = [];
    let { score } = this.#state;
    for (let k = 0; k < times; k++) {
      const left = rows.filter(({ coded }) => !chosen.includes(coded));
      const best = left
        .map((row) => ({ ...row, gain: this.#gain(row.g).gain }))
        .reduce((a, b) => (b.gain > a.gain ? b : a));
      score -= this.#add(best.g);
      chosen.push(best.coded);
    }
    return { poured: { blend, codes: chosen }, score };
  }

  #rowOf({ shares }: Spot, coded: readonly number[]): Float64Array {
    return orthonormalTerms(this.#problem.space, shares, coded);
  }

  #gain(g: Float64Array): { ag: Float64Array; variance: number; gain: number } {
    const p = g.length;
    const a = this.#a;
    const ag = new Float64Array(p);
    for (let i = 0; i < p; i++) {
      let sum = 0;
      for (let j = 0; j < p; j++) sum += a[i * p + j]! * g[j]!;
      ag[i] = sum;
    }
    const variance = dot(g, ag);
    const gain =
      this.#state.criterion === 'determinant' ? Math.log1p(variance) : dot(ag, ag) / (1 + variance);
    return { ag, variance, gain };
  }

  /** Adds a row to the information and returns what it gains. */
  #add(g: Float64Array): number {
    const { ag, variance, gain } = this.#gain(g);
    const p = g.length;
    for (let i = 0; i < p; i++) {
      const scaled = ag[i]! / (1 + variance);
      for (let j = 0; j < p; j++) this.#a[i * p + j] = this.#a[i * p + j]! - scaled * ag[j]!;
    }
    return gain;
  }
}
