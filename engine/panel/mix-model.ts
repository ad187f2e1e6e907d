import type { Cups } from './cups.ts';
import { joinColumns, mixColumns } from './mix-columns.ts';
import { fitPrepared } from './mixed/fit.ts';
import { type PreparedMixed, prepareMixed } from './mixed/prepare.ts';
import type { MixedFit } from './mixed/types.ts';
import { type RandomPart, randomPartOf } from './random-effects.ts';

/** The model with mix as a fixed factor (the first coefficients are the mix means) and the panel's random effects. */
export interface MixModel {
  fit: MixedFit;
  random: RandomPart;
}

/**
 * Fits attributes one after another; those scored on exactly the same cups share the preparation, which is most of
 * the work on a large panel.
 */
export class MixModels {
  #rows: Int32Array | null = null;
  #prepared: PreparedMixed | null = null;
  #random: RandomPart | null = null;

  fit(cups: Cups): MixModel {
    if (!this.#prepared || !this.#random || cups.beside || !same(this.#rows, cups.rows)) {
      this.#random = randomPartOf(cups);
      const columns = joinColumns(mixColumns(cups), cups.beside, cups.y.length);
      const names = [...cups.mixes, ...(cups.beside?.names ?? [])];
      this.#prepared = prepareMixed(columns, names, this.#random.factors);
      this.#rows = cups.beside ? null : cups.rows;
    }
    return { fit: fitPrepared(this.#prepared, cups.y), random: this.#random };
  }
}

function same(a: Int32Array | null, b: Int32Array): boolean {
  return a !== null && a.length === b.length && a.every((v, i) => v === b[i]);
}
