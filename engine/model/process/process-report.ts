import { normalUpper } from '../../numeric/normal.ts';
import { toldApart } from '../../panel/age-at-tasting.ts';
import { estimate } from '../../panel/mixed/estimate.ts';
import { reductionsOf, variancesOf } from '../../panel/random-effects.ts';
import { noTest } from '../../panel/reading-types.ts';
import { besideEffects } from '../../panel/serving-order.ts';
import { alongCox, NO_WIDTH } from '../../region/cox-direction.ts';
import type { AttributeContext } from '../attribute-context.ts';
import type { AttributeFit, CoxEffect, FitInput, LeaveOneMixOut } from '../fit-types.ts';
import { estimatedMeans } from '../mix-factor.ts';
import { AttributeProcess } from './attribute-process.ts';
import { conditionedOn } from './fit-process.ts';
import type { ProcessModels } from './process-posterior.ts';

/** What a process has not, in words. */
const NO_TERMS = 'a process has no terms: it averages surfaces of many shapes';

/**
 * What is reported of one attribute's Gaussian process: effects along Cox's directions with the error of their
 * average over shapes, each mix foretold from the others, and how much of the scores it follows. Variances are those
 * of the model with mix as a factor; tests that compare a sum of terms with something have no counterpart here.
 *
 * @param at place of the attribute in `models`
 */
export function reportProcess(
  { models, components, prepared, kernels }: ProcessModels,
  at: number,
  context: AttributeContext,
  input: FitInput,
): Omit<AttributeFit, 'warnings'> {
  const { mixModel, tasted } = context;
  const model = models[at]!;
  const without = (blend: string): AttributeProcess => {
    const attribute = prepared[at]!;
    const cells = attribute.summary.cells.filter(({ mix }) => mix < 0 || tasted.mixes[mix]!.blend !== blend);
    const rest = { ...attribute, summary: { ...attribute.summary, cells } };
    return new AttributeProcess(
      kernels,
      rest,
      components[at]!.map((component) => conditionedOn(kernels, rest, component)),
    );
  };
  return {
    id: context.id,
    status: 'estimated',
    reason: null,
    model: 'process',
    terms: [],
    aliased: [],
    coefficients: [],
    blending: noTest(NO_TERMS),
    effects: input.space.components.map((_, component) => effectOf(model, context, input, component)),
    variance: variancesOf(mixModel.fit),
    lackOfFit: {
      ...noTest('a process follows the means as far as their noise lets it'),
      against: 'residual',
    },
    leaveOneMixOut: leaveOut(context, without),
    influence: [],
    rSquared: centredRSquared(context, model),
    logRestrictedLikelihood: null,
    weights: [{ model: 'process', weight: 1 }],
    reference: referenceOf(context),
    reduced: [...mixModel.random.reduced, ...reductionsOf(mixModel.fit)],
    ...toldApart(besideEffects(tasted.cups, mixModel.fit, input.df ?? 'satterthwaite')),
  };
}

/** Settings stand in their middle, or where all mixes were tasted. */
function effectOf(
  model: AttributeProcess,
  { still, tasted }: AttributeContext,
  { space, region }: FitInput,
  component: number,
): CoxEffect {
  const [from, to] = [region.low[component]!, region.high[component]!];
  const known = { component: space.components[component]!.id, from, to };
  const none = (reason: string) => ({ ...known, change: null, standardError: null, p: null, reason });
  if (to - from <= NO_WIDTH) return none('the share does not vary');
  const ends = [to, from].map((share) => alongCox(region.centroid, component, share));
  if (!ends[0] || !ends[1]) return none('there is no other component to give way');
  const settings = space.settings.map(({ low, high }, s) =>
    still[s] ? tasted.mixes[0]!.settings[s]! : (low + high) / 2,
  );
  const parts = model.difference({ shares: ends[0], settings }, { shares: ends[1], settings });
  const change = parts.reduce((sum, { weight, mean }) => sum + weight * mean, 0);
  const square = parts.reduce((sum, { weight, mean, variance }) => sum + weight * (mean ** 2 + variance), 0);
  const standardError = Math.sqrt(Math.max(0, square - change ** 2));
  const above = parts.reduce((sum, { weight, mean, variance }) => {
    return sum + weight * (variance > 0 ? normalUpper(-mean / Math.sqrt(variance)) : Number(mean > 0));
  }, 0);
  // twice the smaller share of surfaces that go one way: what a two-sided p is where nothing was known before
  return { ...known, change, standardError, p: Math.min(1, 2 * Math.min(above, 1 - above)) };
}

function leaveOut(
  { tasted, mixModel }: AttributeContext,
  without: (blend: string) => AttributeProcess,
): LeaveOneMixOut {
  const means = estimatedMeans(mixModel, tasted);
  const { mixes } = tasted;
  let miss = 0;
  for (const blend of new Set(mixes.map((m) => m.blend))) {
    const own = [...mixes.keys()].filter((m) => mixes[m]!.blend === blend);
    const { mean } = without(blend).predict(
      own.map((m) => mixes[m]!),
      0,
    );
    own.forEach((m, i) => {
      miss += (means[m]! - mean[i]!) ** 2;
    });
  }
  const centre = means.reduce((sum, v) => sum + v, 0) / means.length;
  const spread = means.reduce((sum, v) => sum + (v - centre) ** 2, 0);
  return { rmse: Math.sqrt(miss / mixes.length), q2: spread > 0 ? 1 - miss / spread : null };
}

function centredRSquared(
  { tasted: { cups, mixes, reference } }: AttributeContext,
  model: AttributeProcess,
): number | null {
  const { mean } = model.predict(mixes, 0);
  const own = [...cups.y.keys()].filter((i) => cups.mixOf[i] !== reference);
  const centre = own.reduce((sum, i) => sum + cups.y[i]!, 0) / own.length;
  const left = own.reduce((sum, i) => sum + (cups.y[i]! - mean[cups.mixOf[i]!]!) ** 2, 0);
  const total = own.reduce((sum, i) => sum + (cups.y[i]! - centre) ** 2, 0);
  return total > 0 ? 1 - left / total : null;
}

function referenceOf({
  mixModel: { fit },
  tasted: { reference },
}: AttributeContext): AttributeFit['reference'] {
  if (reference < 0) return null;
  const row = new Float64Array(fit.p);
  row[reference] = 1;
  const { estimate: mean, standardError } = estimate(fit, row, 'satterthwaite');
  return { mean, standardError };
}
