import { SCHEFFE_MODELS } from '../design/terms.ts';
import { leveragesAt, orthogonalFactors } from '../numeric/orthogonal.ts';
import { independentColumns } from '../panel/mixed/independent-columns.ts';
import type { ModelName, RegionWidths, TermModel } from './fit-types.ts';
import { leaveGroupsOut } from './mean-model.ts';
import type { MixSummary } from './mix-summary.ts';
import { fitNugget } from './nugget.ts';
import type { PointTable } from './point-table.ts';
import { stackingWeights } from './stacking.ts';
import { termRows } from './surface.ts';
import type { Tasted } from './tasted.ts';
import type { TermSet } from './term-set.ts';

export interface ModelChoice {
  /** Among the sums of terms. */
  best: TermModel;
  /** The process among them, where it was considered. */
  weights: { model: ModelName; weight: number }[];
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
 * Chooses among the sums of terms that the tasted mixes can tell, by the log density with which each predicts the
 * means of every blend from all others (variance of mixes about the model included, so that a poor model is not
 * punished for more than it misses). The polynomials are nested: every choice keeps the hierarchy of its terms. The
 * average is over these and a Gaussian process, which may weigh most where no sum of terms follows the scores.
 *
 * @returns null where not even the components can be told apart
 */
export function chooseModel(
  tasted: Tasted,
  summary: MixSummary,
  {
    setOf,
    region,
    processDensities,
    cover,
  }: {
    setOf: (model: TermModel) => TermSet;
    region: RegionWidths;
    /** Log density of each blend by the process; null where it is not considered. */
    processDensities: Float64Array | null;
    /** Points spread over the region. */
    cover: PointTable;
  },
): ModelChoice | null {
  const estimable = candidatesFor(region).filter((model, poorest) => {
    const set = setOf(model);
    return isEstimable(tasted, set) && (poorest === 0 || isHeld(tasted, set, cover));
  });
  if (estimable.length === 0) return null;
  const tested = distinctSets(estimable, setOf).flatMap((model) => {
    const densities = predictiveDensities(tasted, summary, setOf(model));
    return densities ? [{ model, densities, total: densities.reduce((sum, v) => sum + v, 0) }] : [];
  });
  if (tested.length === 0) return untestable(estimable[0]!, processDensities);
  const best = tested.reduce((a, b) => (b.total > a.total + 1e-9 ? b : a)).model;
  const averaged: { model: ModelName; densities: Float64Array }[] = [
    ...tested,
    ...(processDensities ? [{ model: 'process' as const, densities: processDensities }] : []),
  ];
  const weights = stackingWeights(averaged.map((one) => one.densities));
  const known = new Set(tested.map((t) => t.model));
  return {
    best,
    weights: averaged.map(({ model }, k) => ({ model, weight: weights[k]! })),
    untested: distinctSets(estimable, setOf).filter((model) => !known.has(model)),
  };
}

/** As many terms as mixes: nothing tells the two apart. */
function untestable(best: TermModel, processDensities: Float64Array | null): ModelChoice {
  const models: ModelName[] = processDensities ? [best, 'process'] : [best];
  return { best, weights: models.map((model) => ({ model, weight: 1 / models.length })), untested: [] };
}

/** Whether the tasted mixes can tell every term of the set. */
export function isEstimable(tasted: Tasted, set: TermSet): boolean {
  const p = set.names.length;
  if (tasted.mixes.length < p || p === 0) return false;
  return independentColumns(termRows(set, tasted), p).length === p;
}

/**
 * Whether the mixes hold the surface over the whole region, and not only where they lie: x'(X'X)⁻¹x averages at most
 * `LOOSE` there, with one row of X a mix. A few mixes left over can make a rich model look right that nothing holds
 * between them.
 */
function isHeld(tasted: Tasted, set: TermSet, cover: PointTable): boolean {
  const p = set.names.length;
  const { r } = orthogonalFactors(termRows(set, tasted), tasted.mixes.length, p);
  const sum = leveragesAt(r, cover.rows(set), p).reduce((s, v) => s + v, 0);
  return sum <= LOOSE * cover.count;
}

/** In units of the variance of one mix's mean. A plan for a model's own terms stays near 1. */
const LOOSE = 4;

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
