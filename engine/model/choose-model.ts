import { SCHEFFE_MODELS } from '../design/terms.ts';
import { independentColumns } from '../panel/mixed/independent-columns.ts';
import type { RegionWidths, TermModel } from './fit-types.ts';
import { leaveGroupsOut } from './mean-model.ts';
import type { MixSummary } from './mix-summary.ts';
import { fitNugget } from './nugget.ts';
import { stackingWeights } from './stacking.ts';
import { termRows } from './surface.ts';
import type { Tasted } from './tasted.ts';
import type { TermSet } from './term-set.ts';

export interface ModelChoice {
  best: TermModel;
  weights: { model: TermModel; weight: number }[];
  /** Estimable models that are richer than the best but leave no blend to be predicted, poorest first. */
  untested: TermModel[];
}

/**
 * What `auto` looks at, from poor to rich. Log ratios are looked at where some share may grow tenfold: over less than
 * a decade they bend hardly otherwise than a quadratic.
 */
function candidatesFor({ low, high }: RegionWidths): readonly TermModel[] {
  const spansDecade = low.some((least, i) => least > 0 && high[i]! >= 10 * least);
  return spansDecade ? [...SCHEFFE_MODELS, 'log-ratio'] : SCHEFFE_MODELS;
}

/**
 * Chooses among the polynomials that the tasted mixes can tell, by the log density with which each predicts the
 * means of every blend from all others (variance of mixes about the model included, so that a poor model is not
 * punished for more than it misses). The polynomials are nested: every choice keeps the hierarchy of its terms.
 *
 * @returns null where not even the components can be told apart
 */
export function chooseModel(
  tasted: Tasted,
  summary: MixSummary,
  { setOf, region }: { setOf: (model: TermModel) => TermSet; region: RegionWidths },
): ModelChoice | null {
  const estimable = candidatesFor(region).filter((model) => isEstimable(tasted, setOf(model)));
  if (estimable.length === 0) return null;
  const tested = distinctSets(estimable, setOf).flatMap((model) => {
    const densities = predictiveDensities(tasted, summary, setOf(model));
    return densities ? [{ model, densities, total: densities.reduce((sum, v) => sum + v, 0) }] : [];
  });
  if (tested.length === 0)
    return { best: estimable[0]!, weights: [{ model: estimable[0]!, weight: 1 }], untested: [] };
  const best = tested.reduce((a, b) => (b.total > a.total + 1e-9 ? b : a)).model;
  const weights = stackingWeights(tested.map((t) => t.densities));
  const known = new Set(tested.map((t) => t.model));
  return {
    best,
    weights: tested.map(({ model }, k) => ({ model, weight: weights[k]! })),
    untested: distinctSets(estimable, setOf).filter((model) => !known.has(model)),
  };
}

/** Whether the tasted mixes can tell every term of the set. */
export function isEstimable(tasted: Tasted, set: TermSet): boolean {
  const p = set.names.length;
  if (tasted.mixes.length < p || p === 0) return false;
  return independentColumns(termRows(set, tasted), p).length === p;
}

/** Log predictive density of each blend; null where some blend cannot be predicted from the others. */
function predictiveDensities(tasted: Tasted, summary: MixSummary, set: TermSet): Float64Array | null {
  if (tasted.mixes.length <= set.names.length) return null;
  const found = fitNugget(summary, termRows(set, tasted));
  return found && leaveGroupsOut(found.fit, summary.blendOf);
}

/** Leaves out models that after aliasing have the terms of a poorer one. */
function distinctSets(models: readonly TermModel[], setOf: (model: TermModel) => TermSet): TermModel[] {
  const names = (model: TermModel) => setOf(model).names.join();
  return models.filter((model, i) => !models.slice(0, i).some((poorer) => names(poorer) === names(model)));
}
