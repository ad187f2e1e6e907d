import { type Knowledge, type KnowledgePoint, knowledgeCurve } from '../../engine/design/knowledge-curve.ts';
import type { PlanInput, PlannedMix, PlanTools } from '../../engine/design/plan-types.ts';
import type { Hooks } from '../../engine/hooks.ts';
import type { Brief } from '../schema/brief.ts';
import { byId } from '../schema/engine-shapes.ts';
import type { PlanOffer, PlanOffers } from '../schema/plan-document.ts';
import { cupsBeside, type NoiseById, priceOf, shiftsOf } from './weigh-up-plan.ts';

const POINTS = 12;

interface Setting extends PlanTools {
  noise: NoiseById;
  hooks?: Hooks | undefined;
}

/**
 * Three sizes side by side: what one evening's sitting holds for whoever is present, two evenings', and enough for
 * every bend; with price against knowledge, and a curve so that the maker sees where more stops paying. All count what
 * is weighed already, keep what is pinned and stay within what is scarce, and the plan itself is judged beside them in
 * the same model.
 */
export function planOffers(
  brief: Brief,
  input: PlanInput,
  planned: readonly PlannedMix[],
  { noise, hooks, ...tools }: Setting,
): PlanOffers {
  const sizes = offerSizes(brief);
  const curve = knowledgeCurve(
    { ...input, screen: undefined, perBottle: undefined, thrift: undefined },
    [...Object.values(sizes), ...pointsBetween(sizes, input.mixes)],
    tools,
    hooks,
  );
  const places = planned.map(({ ratios, settings }) => ({
    shares: brief.components.map(({ id }) => ratios[id]!),
    settings: brief.settings.map(({ id }) => settings[id]!),
  }));
  const toldOf = (knowledge: Knowledge) => ({
    averageVariance: knowledge.averageVariance,
    shifts: shiftsOf(brief, knowledge.pairVariance, noise),
  });
  const own = curve.judge(places);
  const offers = (['one-evening', 'two-evenings', 'in-depth'] as const).flatMap((offer): PlanOffer[] => {
    const mixes = sizes[offer];
    if (mixes === planned.length && own !== null)
      return [{ offer, mixes, price: priceOf(brief, planned), ...toldOf(own) }];
    const point = curve.points.find((one) => one.mixes === mixes);
    return point === undefined ? [] : [{ offer, mixes, price: priceAt(brief, point), ...toldOf(point) }];
  });
  return {
    offers,
    knowledge: curve.points.map((point) => {
      const { averageVariance, shifts } = toldOf(point);
      return { mixes: point.mixes, averageVariance, shifts: shifts.map(({ shift }) => shift) };
    }),
    comparedIn: curve.model,
    among: own === null ? null : { mixes: planned.length, ...toldOf(own) },
  };
}

/** Mixes of the three sizes. A taster meets each mix with every replicate, and the reference where one is aimed at. */
function offerSizes(brief: Brief): Record<PlanOffer['offer'], number> {
  const { components, settings, panel } = brief;
  const q = components.length;
  const each = settings.reduce((sum, { acts }) => sum + (acts === 'each' ? q : 1), 0);
  const held = (evenings: number) =>
    Math.max(1, Math.floor((evenings * panel.cupsPerSitting) / panel.replicates) - cupsBeside(brief));
  const squares = (settings.length * (settings.length + 1)) / 2;
  const bends = (q * (q + 1)) / 2 + each + squares;
  const one = Math.max(q, held(1));
  const two = Math.max(one + 1, held(2));
  return { 'one-evening': one, 'two-evenings': two, 'in-depth': Math.max(two + 2, bends + 2) };
}

function pointsBetween(sizes: Record<PlanOffer['offer'], number>, asked: number): number[] {
  const least = sizes['one-evening'];
  const most = Math.max(sizes['in-depth'] + 2, Math.min(asked, 2 * sizes['in-depth']));
  const step = Math.max(1, Math.ceil((most - least) / POINTS));
  return Array.from({ length: Math.floor((most - least) / step) + 1 }, (_, k) => least + k * step);
}

/** The price of mixes that are not yet on the grid of the balance; equal blends are one bottle unless weighed again. */
function priceAt(brief: Brief, { spots }: KnowledgePoint): PlanOffer['price'] {
  const poured = new Map<string, number>();
  const mixes = spots.map(({ shares, coded }) => {
    const blend = shares.map((share) => share.toPrecision(8)).join();
    const weighing = (poured.get(`${blend} ${coded.join()}`) ?? 0) + 1;
    poured.set(`${blend} ${coded.join()}`, weighing);
    const grams = byId(brief.components, (_, i) => Number((shares[i]! * brief.batch.grams).toFixed(4)));
    return { blend: `${blend} ${weighing}`, grams };
  });
  return priceOf(brief, mixes);
}
