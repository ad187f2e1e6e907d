import type { ScheffeModel } from '../design/terms.ts';
import { type MixModel, MixModels } from '../panel/mix-model.ts';
import type { FitInput, FitStatus, RegionWidths, TermModel } from './fit-types.ts';
import { logRatioSet } from './log-ratio-set.ts';
import { fitMixFactor } from './mix-factor.ts';
import { type MixSummary, summariseMixes } from './mix-summary.ts';
import { PointTable } from './point-table.ts';
import { coverPoints } from './process/process-cover.ts';
import { processDensities } from './process/process-densities.ts';
import type { ProcessModels } from './process/process-posterior.ts';
import { stillSettings, type Tasted, tastedOf } from './tasted.ts';
import { polynomialSet, type TermSet } from './term-set.ts';

/** One attribute made ready for any model of the ratios. */
export interface AttributeContext {
  id: string;
  tasted: Tasted;
  mixModel: MixModel;
  summary: MixSummary;
  still: boolean[];
  setOf: (model: TermModel) => TermSet;
  region: RegionWidths;
  /** Log density of each blend foretold by a Gaussian process from the others; null where none was fitted. */
  processDensities: Float64Array | null;
  /** Points spread over the region. */
  cover: PointTable;
}

/** Ready, or why there is nothing to model. */
export type ContextOutcome = { context: AttributeContext; status: 'ready'; reason: null } | NoContext;

interface NoContext {
  context: null;
  status: Exclude<FitStatus, 'estimated'>;
  reason: string;
}

/** Term sets of one space, each worked out once, and what attributes scored on the same cups share. */
export class TermSets {
  readonly mixModels = new MixModels();
  readonly #input: FitInput;
  readonly #known = new Map<string, TermSet>();
  #cover: PointTable | null = null;

  constructor(input: FitInput) {
    this.#input = input;
  }

  /** Points spread over the region, with the terms of each set worked out once. */
  get cover(): PointTable {
    const { space, region } = this.#input;
    this.#cover ??= new PointTable(coverPoints(space, region), space, region);
    return this.#cover;
  }

  /**
   * The log ratio model has squares and products only where the mixes are at least one and a half times as many as
   * its terms would be.
   */
  get(model: TermModel, still: readonly boolean[], mixes: number): TermSet {
    if (model !== 'log-ratio')
      return this.#make(`${model}|${still.join()}`, () => this.#polynomial(model, still));
    const full = this.#logRatio(2, still);
    return mixes >= 1.5 * full.names.length ? full : this.#logRatio(1, still);
  }

  #polynomial(model: ScheffeModel, still: readonly boolean[]): TermSet {
    return polynomialSet(this.#input.space, this.#input.region, model, still);
  }

  #logRatio(degree: 1 | 2, still: readonly boolean[]): TermSet {
    const { space, region } = this.#input;
    return this.#make(`log ${degree}|${still.join()}`, () => logRatioSet(space, region, degree, still));
  }

  #make(key: string, make: () => TermSet): TermSet {
    const found = this.#known.get(key) ?? make();
    this.#known.set(key, found);
    return found;
  }
}

/** @param processes fitted to the same input, where a model is chosen */
export function attributeContext(
  input: FitInput,
  at: number,
  { sets, processes }: { sets: TermSets; processes: ProcessModels | null },
): ContextOutcome {
  const tasted = tastedOf(input, at);
  const nothing = whyNoModel(tasted);
  if (nothing) return { context: null, ...nothing };
  const mixModel = fitMixFactor(tasted, sets.mixModels);
  const still = stillSettings(input, tasted.mixes);
  const summary = summariseMixes(tasted, mixModel);
  const context = {
    id: input.attributes[at]!.id,
    tasted,
    mixModel,
    summary,
    still,
    setOf: (model: TermModel) => sets.get(model, still, tasted.mixes.length),
    region: input.region,
    processDensities: processes && processDensities(processes, at, summary),
    cover: sets.cover,
  };
  return { context, status: 'ready', reason: null };
}

/** Why these cups tell nothing about ratios; null where they may. */
export function whyNoModel({ cups: { y }, mixes }: Tasted): Omit<NoContext, 'context'> | null {
  if (y.length === 0) return { status: 'missing', reason: 'no score was given' };
  if (mixes.length === 0) return { status: 'not-estimable', reason: 'only the reference was scored' };
  if (y.every((v) => v === y[0])) return { status: 'constant', reason: 'every score is the same' };
  return mixes.length < 2 ? { status: 'not-estimable', reason: 'only one mix was scored' } : null;
}
